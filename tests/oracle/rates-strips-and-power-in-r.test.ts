import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { friedmanPairs } from '../../analyses/friedman-pairs.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import { powerOfPlan } from '../../analyses/power-in-complete-blocks.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { responseToRate } from '../../analyses/response-to-rate.ts';
import { splitBlock } from '../../analyses/split-block.ts';
import { accepted, expectRelative } from '../analyses/fixture-data.ts';
import { type LiveR, rFactor, rVector, startR } from './live-r.ts';

const SEED = 20261125;
const RUNS = 25;

const whole = (min: number, max: number) => fc.integer({ min, max });

/** Values of blocks x first x second plots, first and second at least 2. */
const crossedTrials = fc.tuple(whole(2, 5), whole(2, 5), whole(2, 4)).chain(([blocks, first, second]) =>
  fc.record({
    blocks: fc.constant(blocks),
    first: fc.constant(first),
    second: fc.constant(second),
    values: fc.array(whole(2000, 12000), {
      minLength: blocks * first * second,
      maxLength: blocks * first * second,
    }),
  }),
);

/** Blocks x rates with some plots lost; rates unequally spaced. */
const rateTrials = fc.tuple(whole(3, 6), whole(3, 7)).chain(([blocks, levels]) =>
  fc.record({
    levels: fc.constant(levels),
    rates: fc.uniqueArray(whole(0, 300), { minLength: levels, maxLength: levels }),
    values: fc.array(fc.option(whole(2000, 12000), { freq: 10 }), {
      minLength: blocks * levels,
      maxLength: blocks * levels,
    }),
  }),
);

describe('rates, split blocks, rank sums and power on random trials, beside R itself', () => {
  let r: LiveR;
  beforeAll(async () => {
    r = await startR();
  }, 60_000);
  afterAll(() => r.close());

  it('response to rate with lost plots: lm on the plots', async () => {
    let compared = 0;
    for (const { levels, rates, values } of fc.sample(rateTrials, { seed: SEED, numRuns: RUNS })) {
      const kept = values.flatMap((value, i) => (value === null ? [] : [i]));
      const block = level(
        'b',
        kept.map((i) => Math.floor(i / levels)),
      );
      const treatment = level(
        't',
        kept.map((i) => i % levels),
      );
      if (treatment.levelCount < levels || block.levelCount < 2) continue;
      const y = kept.map((i) => values[i]!);
      const fit = fitLinearModel(responseFromValues(y), [block, treatment]);
      if (isRefusal(fit) || fit.error.df < 1 || fit.exactFit) continue;
      const got = accepted(responseToRate(accepted(adjustedMeans(fit, 't')), rates, 0.05));
      const want = await r.numbers(
        `y <- ${rVector(y)}; b <- ${rFactor(block.levelOfPlot)}; x <- ${rVector(treatment.levelOfPlot.map((own) => rates[own]!))};
         s <- function(m) deviance(m); f <- lm(y ~ b + factor(x)); l <- lm(y ~ b + x); q <- lm(y ~ b + poly(x, 2, raw = TRUE));
         c(s(lm(y ~ b)) - s(l), s(l) - s(q), s(q) - s(f), coef(l)[["x"]], coef(q)[[length(coef(q))]], s(f) / df.residual(f))`,
      );
      const size = fit.total.ss;
      got.lines.forEach((line, i) => {
        expect(Math.abs(line.ss - want[i]!), line.source).toBeLessThan(1e-9 * size);
      });
      expectRelative(got.slope.estimate, want[3]!, 1e-7);
      expectRelative(got.curve!.curvature, want[4]!, 1e-6);
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });

  it('split block: aov with Error strata, F and p', async () => {
    let compared = 0;
    for (const trial of fc.sample(crossedTrials, { seed: SEED, numRuns: RUNS })) {
      const { first, second, values } = trial;
      const b = level(
        'b',
        values.map((_, i) => Math.floor(i / (first * second))),
      );
      const f = level(
        'f',
        values.map((_, i) => Math.floor(i / second) % first),
      );
      const s = level(
        's',
        values.map((_, i) => i % second),
      );
      const got = splitBlock(responseFromValues(values), b, f, s);
      if (isRefusal(got)) continue;
      const want = await r.numbers(
        `d <- data.frame(y = ${rVector(values)}, b = ${rFactor(b.levelOfPlot)}, f = ${rFactor(f.levelOfPlot)}, s = ${rFactor(s.levelOfPlot)});
         k <- summary(aov(y ~ f * s + Error(b / (f + s)), d));
         unlist(lapply(k[2:4], function(e) c(e[[1]][1, "F value"], e[[1]][1, "Pr(>F)"])))`,
      );
      const tested = got.rows.flatMap((row) => (row.f === null ? [] : [row.f, row.p!]));
      tested.forEach((value, i) => {
        expectRelative(value, want[i]!, 1e-8, `entry ${i}`);
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(20);
  });

  it('rank sums of all pairs, with ties: ptukey on infinite df', async () => {
    let compared = 0;
    for (const trial of fc.sample(crossedTrials, { seed: SEED, numRuns: RUNS })) {
      const treatments = trial.first;
      const rows = Array.from({ length: trial.blocks * trial.second }, (_, block) =>
        trial.values
          .slice(block * treatments, (block + 1) * treatments)
          // Coarse, so that ties occur
          .map((value) => Math.round(value / 2500)),
      );
      const got = friedmanPairs(rows, 0.05);
      if (isRefusal(got)) continue;
      const want = await r.numbers(
        `x <- matrix(${rVector(rows.flat())}, ncol = ${treatments}, byrow = TRUE); k <- t(apply(x, 1, rank)); s <- colSums(k);
         e <- sqrt(sum((k - ${(treatments + 1) / 2})^2) / ${treatments - 1});
         d <- outer(s, s, "-"); ptukey(abs(d[upper.tri(d)]) / e, ${treatments}, Inf, lower.tail = FALSE)`,
      );
      got.pairs.forEach((pair, i) => {
        expect(Math.abs(pair.p - want[i]!), `pair ${i}`).toBeLessThan(1e-8);
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(20);
  });

  it('power of Tukey: qtukey and the noncentral t (above 5 error df, where qtukey holds)', async () => {
    for (const [treatments, blocks, difference] of [
      [3, 4, 8],
      [4, 4, 10],
      [6, 5, 7],
      [8, 3, 15],
    ] as const) {
      const plan = { test: 'allPairs', treatments, cvPercent: 5, alpha: 0.05 } as const;
      const got = accepted(powerOfPlan(plan, difference, blocks));
      const [critical, power] = await r.numbers(
        `q <- qtukey(0.95, ${treatments}, ${got.errorDf}) / sqrt(2); n <- ${difference} / (5 * sqrt(2 / ${blocks}));
         c(q, pt(q, ${got.errorDf}, n, lower.tail = FALSE) + pt(-q, ${got.errorDf}, n))`,
      );
      expectRelative(got.criticalValue, critical!, 1e-5);
      expect(Math.abs(got.power - power!)).toBeLessThan(1e-5);
    }
  });
});

/** A factor whose levels are numbered without gaps, in their order. */
function level(id: string, levels: readonly number[]): FactorTerm {
  const present = [...new Set(levels)].sort((a, b) => a - b);
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((own) => present.indexOf(own)),
    levelCount: present.length,
  };
}
