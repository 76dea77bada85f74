import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { adjustedMeans } from '../../analyses/adjusted-means.ts';
import { holmAdjusted } from '../../analyses/holm.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';
import { pairedT } from '../../analyses/paired-t.ts';
import { pairsAgainst, pairwiseDifferences } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { accepted, expectRelative } from '../analyses/fixture-data.ts';
import { type LiveR, rFactor, rVector, startR } from './live-r.ts';

const SEED = 19081935;
const TOLERANCE = 1e-9;

interface Trial {
  readonly treatments: number;
  readonly blocks: number;
  /** One a plot, block by block; null where lost. */
  readonly values: readonly (number | null)[];
  readonly covariate: readonly number[];
}

const trials = (lost: boolean) =>
  fc.tuple(fc.integer({ min: 2, max: 8 }), fc.integer({ min: 2, max: 6 })).chain(([treatments, blocks]) => {
    const size = { minLength: treatments * blocks, maxLength: treatments * blocks };
    return fc.record({
      treatments: fc.constant(treatments),
      blocks: fc.constant(blocks),
      values: fc.array(
        lost
          ? fc.option(fc.integer({ min: 2000, max: 12000 }), { freq: 8 })
          : fc.integer({ min: 2000, max: 12000 }),
        size,
      ),
      covariate: fc.array(fc.integer({ min: 1, max: 300 }), size),
    });
  });

const sampled = (lost: boolean): Trial[] => fc.sample(trials(lost), { seed: SEED, numRuns: 25 });

interface Plots {
  readonly y: number[];
  readonly x: number[];
  readonly block: FactorTerm;
  readonly treatment: FactorTerm;
}

function plotsOf(trial: Trial): Plots {
  const kept = trial.values.flatMap((value, i) => (value === null ? [] : [i]));
  return {
    y: kept.map((i) => trial.values[i]!),
    x: kept.map((i) => trial.covariate[i]!),
    block: compact(
      'block',
      kept.map((i) => Math.floor(i / trial.treatments)),
    ),
    treatment: compact(
      'treatment',
      kept.map((i) => i % trial.treatments),
    ),
  };
}

/** A factor whose levels are numbered without gaps, in their order. */
function compact(id: string, levels: readonly number[]): FactorTerm {
  const present = [...new Set(levels)].sort((a, b) => a - b);
  return {
    kind: 'factor',
    id,
    levelOfPlot: levels.map((level) => present.indexOf(level)),
    levelCount: present.length,
  };
}

const frame = ({ y, x, block, treatment }: Plots) =>
  `d <- data.frame(y = ${rVector(y)}, x = ${rVector(x)}, b = ${rFactor(block.levelOfPlot)}, t = ${rFactor(treatment.levelOfPlot)});`;

/** A fit that R can be asked about: not refused, with an error. */
function usable(response: readonly number[], terms: readonly ModelTerm[]): LinearModelFit | null {
  const fit = fitLinearModel(responseFromValues(response), terms);
  if (isRefusal(fit) || fit.error.df < 1 || fit.exactFit) return null;
  return fit;
}

describe('linear models against R on random trials (seeded)', () => {
  let r: LiveR;
  beforeAll(async () => {
    r = await startR();
  });
  afterAll(() => r.close());

  it('complete blocks: the whole table', async () => {
    let compared = 0;
    for (const trial of sampled(false)) {
      const plots = plotsOf(trial);
      const fit = usable(plots.y, [plots.block, plots.treatment]);
      if (fit === null) continue;
      const table = await r.numbers(
        `${frame(plots)} a <- anova(lm(y ~ b + t, d)); c(a[["Sum Sq"]], a[["F value"]][1:2], a[["Pr(>F)"]][1:2])`,
      );
      const got = [
        ...fit.rows.map((row) => row.ss),
        fit.error.ss,
        ...fit.rows.map((row) => row.f),
        ...fit.rows.map((row) => row.p),
      ];
      got.forEach((value, i) => {
        expect(Math.abs(value! - table[i]!), `entry ${i}`).toBeLessThan(
          TOLERANCE * Math.max(table[i]!, i < 3 ? fit.total.ss * 1e-3 : 1e-4),
        );
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });

  it('incomplete blocks: sums of squares adjusted for the other term, means and their differences', async () => {
    let compared = 0;
    for (const trial of sampled(true)) {
      const plots = plotsOf(trial);
      if (plots.treatment.levelCount < 2 || plots.block.levelCount < 2) continue;
      const fit = usable(plots.y, [plots.block, plots.treatment]);
      if (fit === null) continue;
      const table = await r.numbers(
        `${frame(plots)} m <- lm(y ~ b + t, d); k <- drop1(m, test = "F"); s <- coef(summary(m)); i <- grep("^t", rownames(s));
         c(k[["Sum of Sq"]][2:3], k[["F value"]][2:3], k[["Pr(>F)"]][2:3], deviance(m), df.residual(m), s[i, 1], s[i, 2], s[i, 4])`,
      );
      const others = plots.treatment.levelCount - 1;
      const means = accepted(adjustedMeans(fit, 'treatment'));
      const rows = accepted(pairwiseDifferences(means, pairsAgainst(0, others + 1)));
      const got = [
        ...fit.rows.map((row) => row.ss),
        ...fit.rows.map((row) => row.f),
        ...fit.rows.map((row) => row.p),
        fit.error.ss,
        fit.error.df,
        ...rows.map((row) => row.difference),
        ...rows.map((row) => row.standardError),
        ...rows.map((row) => row.pUnadjusted),
      ];
      got.forEach((value, i) => {
        expectRelative(value, table[i]!, 1e-8, `entry ${i}`);
      });
      const balanced = await r.numbers(
        `g <- expand.grid(b = levels(d$b), t = levels(d$t)); g$f <- predict(m, g); as.vector(tapply(g$f, g$t, mean))`,
      );
      means.means.forEach((mean, level) => {
        expectRelative(mean.mean, balanced[level]!, TOLERANCE, `mean ${level}`);
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });

  it('covariate: its slope line and the treatments adjusted for it', async () => {
    let compared = 0;
    for (const trial of sampled(true)) {
      const plots = plotsOf(trial);
      if (plots.treatment.levelCount < 2 || plots.block.levelCount < 2) continue;
      const fit = usable(plots.y, [
        plots.block,
        plots.treatment,
        { kind: 'covariate', id: 'x', valueOfPlot: plots.x },
      ]);
      if (fit === null) continue;
      const table = await r.numbers(
        `${frame(plots)} m <- lm(y ~ b + t + x, d); k <- drop1(m, test = "F");
         g <- expand.grid(b = levels(d$b), t = levels(d$t)); g$x <- mean(d$x); g$f <- predict(m, g);
         c(k[["Sum of Sq"]][2:4], deviance(m), as.vector(tapply(g$f, g$t, mean)))`,
      );
      const got = [
        ...fit.rows.map((row) => row.ss),
        fit.error.ss,
        ...accepted(adjustedMeans(fit, 'treatment')).means.map((mean) => mean.mean),
      ];
      got.forEach((value, i) => {
        expect(Math.abs(value - table[i]!), `entry ${i}`).toBeLessThan(
          1e-8 * (i < 4 ? Math.max(table[i]!, fit.total.ss * 1e-4) : Math.abs(table[i]!)),
        );
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(12);
  });

  it('factorial with lost plots: main effects not adjusted for their interaction, the interaction for both', async () => {
    let compared = 0;
    for (const trial of sampled(true)) {
      // Two plots a cell, each of which may be lost; whether a cell is empty decides whether the trial can be used.
      const cells = [...trial.values, ...trial.covariate];
      const kept = cells.flatMap((value, i) => (value === null ? [] : [i]));
      const doubled = kept.map((i) => cells[i]!);
      const plotOf = (i: number) => i % trial.values.length;
      const a = compact(
        'a',
        kept.map((i) => Math.floor(plotOf(i) / trial.treatments)),
      );
      const b = compact(
        'b',
        kept.map((i) => plotOf(i) % trial.treatments),
      );
      if (a.levelCount < 2 || b.levelCount < 2) continue;
      const fit = usable(doubled, [a, b, { kind: 'interaction', id: 'a:b', factors: ['a', 'b'] }]);
      if (fit === null) continue;
      const [ssA, ssB, ssAB, error] = await r.numbers(
        `d <- data.frame(y = ${rVector(doubled)}, a = ${rFactor(a.levelOfPlot)}, b = ${rFactor(b.levelOfPlot)});
         s <- function(f) deviance(lm(f, d));
         c(s(y ~ b) - s(y ~ a + b), s(y ~ a) - s(y ~ a + b), s(y ~ a + b) - s(y ~ a * b), s(y ~ a * b))`,
      );
      [ssA!, ssB!, ssAB!].forEach((ss, i) => {
        expect(Math.abs(fit.rows[i]!.ss - ss), fit.rows[i]!.term).toBeLessThan(TOLERANCE * fit.total.ss);
      });
      expectRelative(fit.error.ss, error!, TOLERANCE, 'error');
      compared++;
    }
    expect(compared).toBeGreaterThan(12);
  });

  it('paired t and p.adjust', async () => {
    for (const trial of sampled(false)) {
      const n = trial.blocks;
      const [a, b] = [trial.values.slice(0, n) as number[], trial.covariate.slice(0, n)];
      const got = pairedT(
        a.map((value, i) => ({ a: value, b: b[i]! })),
        0.1,
      );
      if (isRefusal(got)) continue;
      const want = await r.numbers(
        `h <- t.test(${rVector(a)}, ${rVector(b)}, paired = TRUE, conf.level = 0.9); c(h$statistic, h$parameter, h$p.value, h$conf.int)`,
      );
      [got.t, got.df, got.p, got.lower, got.upper].forEach((value, i) => {
        expectRelative(value, want[i]!, TOLERANCE, `entry ${i}`);
      });
      const ps = trial.covariate.map((value) => value / 301);
      const adjusted = await r.numbers(`p.adjust(${rVector(ps)}, "holm")`);
      holmAdjusted(ps).forEach((p, i) => {
        expectRelative(p, adjusted[i]!, 1e-14, `p ${i}`);
      });
    }
  });
});
