import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AdjustedMeans, adjustedMeans } from '../../analyses/adjusted-means.ts';
import { bartlett } from '../../analyses/bartlett.ts';
import { chiSquaredUpperTail } from '../../analyses/distributions/chi-squared.ts';
import { fUpperQuantile } from '../../analyses/distributions/f.ts';
import { noncentralFUpperTail } from '../../analyses/distributions/noncentral-f.ts';
import { fisherLsd } from '../../analyses/fisher-lsd.ts';
import { friedman } from '../../analyses/friedman.ts';
import { fitLinearModel, type LinearModelFit } from '../../analyses/linear-model.ts';
import type { FactorTerm } from '../../analyses/model-terms.ts';
import {
  allPairs,
  type PairwiseDifference,
  pairwiseDifferences,
} from '../../analyses/pairwise-differences.ts';
import { powerTwoSidedT } from '../../analyses/power-two-sided-t.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { type RandomNumbers, seededGenerator, shuffled } from '../../analyses/seeded-generator.ts';
import { shapiroWilk } from '../../analyses/shapiro-wilk.ts';
import { signedRank } from '../../analyses/signed-rank.ts';
import { tukey } from '../../analyses/tukey.ts';
import { accepted } from '../analyses/fixture-data.ts';
import { type LiveR, startR } from './live-r.ts';

/**
 * Random designs, seeded, each analysed here and by R. R reads all designs of one kind from one list and answers with
 * one vector, design after design, so that the whole takes seconds.
 */
const SEED = 1947;
const DESIGNS = { completelyRandomized: 160, completeBlocks: 220, incompleteBlocks: 130 } as const;
/** TukeyHSD's own integrals take R long. */
const ONE_IN_FOR_TUKEY = 4;
/** R in WebAssembly, and other work on the same machine. */
const PATIENCE_MS = 240_000;

interface Design {
  /** Whole numbers, so that both sides read the same values. */
  readonly values: readonly number[];
  readonly treatment: FactorTerm;
  /** null: completely randomized. */
  readonly block: FactorTerm | null;
}

const whole = (random: RandomNumbers, low: number, high: number) =>
  low + Math.floor((high - low + 1) * random());

function factor(id: string, levelOfPlot: readonly number[]): FactorTerm {
  return { kind: 'factor', id, levelOfPlot, levelCount: Math.max(...levelOfPlot) + 1 };
}

/** From close together to far apart, about levels from 0 to 10,000. */
function valuesFor(plots: number, random: RandomNumbers): number[] {
  const level = whole(random, 0, 10_000);
  const spread = 10 ** whole(random, 1, 4);
  return Array.from({ length: plots }, () => level + whole(random, 0, spread));
}

function completelyRandomized(random: RandomNumbers): Design {
  const treatments = whole(random, 2, 10);
  const levels = Array.from({ length: treatments }, (_, t) =>
    new Array<number>(whole(random, 2, 8)).fill(t),
  ).flat();
  return { values: valuesFor(levels.length, random), treatment: factor('t', levels), block: null };
}

function completeBlocks(random: RandomNumbers): Design {
  const [treatments, blocks] = [whole(random, 2, 12), whole(random, 2, 8)];
  const plots = Array.from({ length: treatments * blocks }, (_, i) => i);
  return {
    values: valuesFor(plots.length, random),
    treatment: factor(
      't',
      plots.map((i) => i % treatments),
    ),
    block: factor(
      'b',
      plots.map((i) => Math.floor(i / treatments)),
    ),
  };
}

/** Up to three strips lost from at least three treatments in three blocks, so that all stay linked. */
function incompleteBlocks(random: RandomNumbers): Design {
  const [treatments, blocks] = [whole(random, 3, 9), whole(random, 4, 8)];
  const plots = Array.from({ length: treatments * blocks }, (_, i) => i);
  const lost = shuffled(plots.length, random).slice(0, whole(random, 1, 3));
  const kept = plots.filter((i) => !lost.includes(i));
  return {
    values: valuesFor(kept.length, random),
    treatment: factor(
      't',
      kept.map((i) => i % treatments),
    ),
    block: factor(
      'b',
      kept.map((i) => Math.floor(i / treatments)),
    ),
  };
}

function drawn(draw: (random: RandomNumbers) => Design, count: number, seed: number): Design[] {
  const random = seededGenerator(seed);
  return Array.from({ length: count }, () => draw(random));
}

const list = (of: readonly (readonly number[])[]) =>
  `list(${of.map((own) => `c(${own.join(',')})`).join(',')})`;

/** The designs of one kind as three lists of vectors in R; `each` evaluates code for every one and joins the results. */
function given(name: string, designs: readonly Design[]): string {
  const blocks = designs.map(({ block, values }) => block?.levelOfPlot ?? values.map(() => 0));
  return `${name} <- list(y = ${list(designs.map(({ values }) => values))},
    t = ${list(designs.map(({ treatment }) => treatment.levelOfPlot))}, b = ${list(blocks)}); 0`;
}

function each(name: string, code: string, at: readonly number[] | null = null): string {
  const which = at === null ? `seq_along(${name}$y)` : `c(${at.map((i) => i + 1).join(',')})`;
  return `unlist(lapply(${which}, function(i) {
    y <- ${name}$y[[i]]; t <- factor(${name}$t[[i]]); b <- factor(${name}$b[[i]]); ${code} }))`;
}

interface Analysed {
  readonly fit: LinearModelFit;
  readonly means: AdjustedMeans;
}

const known = new Map<Design, Analysed>();

function analysed(design: Design): Analysed {
  const { values, block, treatment } = design;
  const before = known.get(design);
  if (before !== undefined) return before;
  const terms = block === null ? [treatment] : [block, treatment];
  const fit = accepted(fitLinearModel(responseFromValues(values), terms));
  const own = { fit, means: accepted(adjustedMeans(fit, 't')) };
  known.set(design, own);
  return own;
}

function everyPair(design: Design): readonly PairwiseDifference[] {
  const { means } = analysed(design);
  return accepted(pairwiseDifferences(means, allPairs(means.means.length)));
}

/** The first level against all later ones, then the second. */
function asRListsThem<T extends PairwiseDifference>(rows: readonly T[]): T[] {
  return [...rows].sort((x, y) => x.b - y.b || x.a - y.a);
}

/** Takes R's answers one by one, in the order of the designs; all must have been taken at the end. */
class Answers {
  #next = 0;
  readonly #numbers: readonly number[];
  readonly #apart: string[] = [];

  constructor(numbers: readonly number[]) {
    this.#numbers = numbers;
  }

  /** What R answered to the question that is compared next. */
  get upcoming(): number {
    return this.#numbers[this.#next] ?? Number.NaN;
  }

  /** `least`: values smaller than this are held to the tolerance of one of this size. */
  compare(got: number | null, tolerance: number, what: string, least = 0): void {
    const want = this.#numbers[this.#next++] ?? Number.NaN;
    const error = Math.abs((got ?? Number.NaN) - want) / Math.max(Math.abs(want), least);
    if (want !== got && !(error <= tolerance)) this.#apart.push(`${what}: got ${got}, R has ${want}`);
  }

  expectAllAlike(): void {
    expect(this.#apart).toEqual([]);
    expect(this.#next).toBe(this.#numbers.length);
    expect(this.#next).toBeGreaterThan(0);
  }
}

const RELATIVE = 1e-9;
/** Below this share of the total, rounding of either side shows. */
const SMALL_SHARE = 1e-3;
/** R's ptukey is known to be off by 2e-8 (see distributions-in-r.test.ts). */
const TUKEY_P = 5e-8;
/** R's qtukey stops its search at steps below 0.0001 (AS 70 and its own source). In standard errors. */
const QTUKEY = 1e-4;

/**
 * K2 is what is left of sums about 1. Below this its rounding, in R as here, shows in p as the root of K2: there p is
 * held at R's own K2, to the same bar.
 */
const K2_ALL_BUT_ZERO = 1e-6;

function compareTable(answers: Answers, { fit }: Analysed, what: string): void {
  for (const row of fit.rows) {
    answers.compare(row.df, 0, `${what} df`);
    answers.compare(row.ss, RELATIVE, `${what} SS`, SMALL_SHARE * fit.total.ss);
    answers.compare(row.f, RELATIVE, `${what} F`, SMALL_SHARE);
    answers.compare(row.p, RELATIVE, `${what} p`, 1e-12);
  }
  answers.compare(fit.error.df, 0, `${what} error df`);
  answers.compare(fit.error.ss, RELATIVE, `${what} error SS`, SMALL_SHARE * fit.total.ss);
}

describe('random designs against R (seeded)', () => {
  const crd = drawn(completelyRandomized, DESIGNS.completelyRandomized, SEED);
  const rcbd = drawn(completeBlocks, DESIGNS.completeBlocks, SEED + 1);
  const incomplete = drawn(incompleteBlocks, DESIGNS.incompleteBlocks, SEED + 2);
  const kinds = { crd, rcbd, incomplete } as const;
  const namedKinds = Object.entries(kinds).map(([name, designs]) => ({ name, designs }));
  const all = [...crd, ...rcbd, ...incomplete];
  let r: LiveR;
  beforeAll(async () => {
    r = await startR();
    for (const [name, designs] of Object.entries(kinds)) await r.numbers(given(name, designs));
  }, PATIENCE_MS);
  afterAll(() => r.close());

  it('are at least 500', () => {
    expect(all.length).toBeGreaterThanOrEqual(500);
  });

  it(
    'aov, completely randomized: the whole table',
    async () => {
      const code = `a <- summary(aov(y ~ t))[[1]]; c(a$Df[1], a$Sum[1], a$F[1], a$Pr[1], a$Df[2], a$Sum[2])`;
      const answers = new Answers(await r.numbers(each('crd', code)));
      crd.forEach((design, i) => {
        compareTable(answers, analysed(design), `design ${i}`);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'aov, complete blocks: the whole table',
    async () => {
      const code = `a <- summary(aov(y ~ b + t))[[1]];
      c(a$Df[1], a$Sum[1], a$F[1], a$Pr[1], a$Df[2], a$Sum[2], a$F[2], a$Pr[2], a$Df[3], a$Sum[3])`;
      const answers = new Answers(await r.numbers(each('rcbd', code)));
      rcbd.forEach((design, i) => {
        compareTable(answers, analysed(design), `design ${i}`);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'drop1, incomplete blocks: each term adjusted for the other',
    async () => {
      const code = `m <- lm(y ~ b + t); k <- drop1(m, test = "F");
      c(rbind(k$Df, k$Sum, k$F, k$Pr)[, 2:3], df.residual(m), deviance(m))`;
      const answers = new Answers(await r.numbers(each('incomplete', code)));
      incomplete.forEach((design, i) => {
        compareTable(answers, analysed(design), `design ${i}`);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it.each(namedKinds)(
    "Fisher's LSD from lm, $name: differences of all pairs, their errors, p and the least difference at 5 %",
    async ({ name, designs }) => {
      // Coefficients give every level against the first; the rest follows from their covariance.
      const code = `m <- if (nlevels(b) > 1) lm(y ~ b + t) else lm(y ~ t); k <- grep("^t", names(coef(m)));
        e <- c(0, coef(m)[k]); v <- rbind(0, cbind(0, vcov(m)[k, k, drop = FALSE]));
        w <- which(lower.tri(v), arr.ind = TRUE); i <- w[, 1]; j <- w[, 2]; f <- df.residual(m);
        d <- e[i] - e[j]; s <- sqrt(diag(v)[i] + diag(v)[j] - 2 * v[w]);
        as.vector(rbind(d, s, 2 * pt(abs(d / s), f, lower.tail = FALSE), qt(0.975, f) * s))`;
      const answers = new Answers(await r.numbers(each(name, code)));
      designs.forEach((design, i) => {
        const { fit } = analysed(design);
        for (const row of asRListsThem(accepted(fisherLsd(everyPair(design), 0.05)).comparisons)) {
          const what = `design ${i}, ${row.a} less ${row.b}`;
          const small = SMALL_SHARE * Math.sqrt(fit.total.ss);
          answers.compare(row.difference, RELATIVE, `${what} difference`, small);
          answers.compare(row.standardError, RELATIVE, `${what} standard error`);
          answers.compare(row.p, 1e-8, `${what} p`, 1e-12);
          answers.compare(row.upper! - row.difference, 1e-8, `${what} LSD`);
        }
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it.each(namedKinds.slice(0, 2))(
    'TukeyHSD above 5 df, $name: differences, p and intervals (limited by its ptukey and qtukey)',
    async ({ name, designs }) => {
      const at = designs
        .map((_, i) => i)
        .filter((i) => i % ONE_IN_FOR_TUKEY === 0 && analysed(designs[i]!).fit.error.df > 5);
      expect(at.length).toBeGreaterThan(25);
      const code = `m <- if (nlevels(b) > 1) aov(y ~ b + t) else aov(y ~ t); as.vector(t(TukeyHSD(m, "t")$t))`;
      const answers = new Answers(await r.numbers(each(name, code, at)));
      for (const i of at) {
        const design = designs[i]!;
        const judged = accepted(tukey(everyPair(design), design.treatment.levelCount, 0.05));
        for (const row of asRListsThem(judged.comparisons)) {
          const what = `design ${i}, ${row.a} less ${row.b}`;
          const scale = row.standardError;
          answers.compare(row.difference, RELATIVE, `${what} difference`, scale);
          answers.compare(row.lower, QTUKEY, `${what} lower`, scale);
          answers.compare(row.upper, QTUKEY, `${what} upper`, scale);
          answers.compare(row.p, TUKEY_P, `${what} p`, 1);
        }
      }
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'pairwise.t.test with pooled SD: p of all pairs',
    async () => {
      const code = `p <- pairwise.t.test(y, t, p.adjust.method = "none")$p.value; p[lower.tri(p, diag = TRUE)]`;
      const answers = new Answers(await r.numbers(each('crd', code)));
      crd.forEach((design, i) => {
        for (const row of asRListsThem(everyPair(design)))
          answers.compare(row.pUnadjusted, 1e-8, `design ${i}, ${row.a} less ${row.b}`, 1e-12);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'friedman.test on complete blocks',
    async () => {
      const answers = new Answers(
        await r.numbers(each('rcbd', `h <- friedman.test(y, t, b); c(h$statistic, h$p.value)`)),
      );
      rcbd.forEach(({ values, treatment, block }, i) => {
        const rows = Array.from({ length: block!.levelCount }, (_, b) =>
          values.slice(b * treatment.levelCount, (b + 1) * treatment.levelCount),
        );
        const got = accepted(friedman(rows));
        answers.compare(got.chiSquared, 1e-10, `design ${i} statistic`, 1);
        answers.compare(got.p, 1e-10, `design ${i} p`, 1e-6);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'wilcox.test, paired, exact, without ties: the first two treatments of complete blocks',
    async () => {
      const differences = rcbd
        .map(({ values, treatment, block }) =>
          Array.from(
            { length: block!.levelCount },
            (_, b) => values[b * treatment.levelCount]! - values[b * treatment.levelCount + 1]!,
          ),
        )
        .filter((own) => !own.includes(0) && new Set(own.map(Math.abs)).size === own.length);
      expect(differences.length).toBeGreaterThan(150);
      const answers = new Answers(
        await r.numbers(
          `unlist(lapply(${list(differences)}, function(d) { h <- wilcox.test(d, exact = TRUE); c(h$statistic, h$p.value) }))`,
        ),
      );
      differences.forEach((own, i) => {
        const got = accepted(signedRank(own));
        answers.compare(got.v, 0, `pairs ${i} V`);
        answers.compare(got.p, 1e-12, `pairs ${i} p`);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it.each(namedKinds)(
    'shapiro.test on residuals, $name',
    async ({ name, designs }) => {
      const code = `m <- if (nlevels(b) > 1) lm(y ~ b + t) else lm(y ~ t); h <- shapiro.test(residuals(m)); c(h$statistic, h$p.value)`;
      const answers = new Answers(await r.numbers(each(name, code)));
      designs.forEach((design, i) => {
        const got = accepted(shapiroWilk(analysed(design).fit.residuals));
        answers.compare(got.w, 1e-9, `design ${i} W`);
        // Near W = 1 p hangs on the last digits of 1 - W, and R floors p at 1e-19 for 11 values or fewer.
        answers.compare(got.p, 1e-6, `design ${i} p`, 1e-3);
      });
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'bartlett.test on groups',
    async () => {
      const at = crd.map((_, i) => i).filter((i) => groupsOf(crd[i]!).every((own) => new Set(own).size > 1));
      expect(at.length).toBeGreaterThan(100);
      const code = `h <- bartlett.test(y, t); c(h$statistic, h$p.value)`;
      const answers = new Answers(await r.numbers(each('crd', code, at)));
      for (const i of at) {
        const got = accepted(bartlett(groupsOf(crd[i]!)));
        const k2OfR = answers.upcoming;
        answers.compare(got.chiSquared, 1e-9, `design ${i} K2`, 1e-3);
        const p = k2OfR > K2_ALL_BUT_ZERO ? got.p : chiSquaredUpperTail(k2OfR, got.df);
        answers.compare(p, 1e-9, `design ${i} p`, 1e-9);
      }
      answers.expectAllAlike();
    },
    PATIENCE_MS,
  );

  it(
    'power.t.test and power.anova.test on random questions',
    async () => {
      const random = seededGenerator(SEED + 3);
      const questions = Array.from({ length: 120 }, () => ({
        n: whole(random, 2, 30),
        delta: 0.2 + 3 * random(),
        alpha: [0.01, 0.05, 0.1][whole(random, 0, 2)]!,
        groups: whole(random, 2, 9),
        between: 0.05 + random(),
      }));
      const column = (of: (question: (typeof questions)[number]) => number) =>
        `c(${questions.map((question) => of(question).toPrecision(17)).join(',')})`;
      const ofT = new Answers(
        await r.numbers(
          `mapply(function(n, d, a) power.t.test(n = n, delta = d, sd = 1, sig.level = a, strict = TRUE)$power,
          ${column((q) => q.n)}, ${column((q) => q.delta)}, ${column((q) => q.alpha)})`,
        ),
      );
      const ofF = new Answers(
        await r.numbers(
          `mapply(function(n, g, v, a) power.anova.test(groups = g, n = n, between.var = v, within.var = 1, sig.level = a)$power,
          ${column((q) => q.n)}, ${column((q) => q.groups)}, ${column((q) => q.between)}, ${column((q) => q.alpha)})`,
        ),
      );
      for (const { n, delta, alpha, groups, between } of questions) {
        ofT.compare(powerTwoSidedT(delta / Math.sqrt(2 / n), 2 * (n - 1), alpha), 1e-8, `t, n ${n}`, 1);
        const [df1, df2] = [groups - 1, groups * (n - 1)];
        const power = noncentralFUpperTail(fUpperQuantile(alpha, df1, df2), df1, df2, df1 * n * between);
        ofF.compare(power, 1e-9, `F, ${groups} groups of ${n}`, 1);
      }
      ofT.expectAllAlike();
      ofF.expectAllAlike();
    },
    PATIENCE_MS,
  );
});

function groupsOf({ values, treatment }: Design): number[][] {
  return Array.from({ length: treatment.levelCount }, (_, level) =>
    values.filter((_, plot) => treatment.levelOfPlot[plot] === level),
  );
}
