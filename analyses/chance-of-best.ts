import type { AdjustedMeans } from './adjusted-means.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { RandomNumbers } from './seeded-generator.ts';

export interface ChanceOfBest {
  /** One a level; they add up to 1. */
  readonly chances: readonly number[];
  readonly draws: number;
  /** The largest standard error that drawing leaves in any of them. */
  readonly standardError: number;
}

/**
 * How likely is each treatment to be the best of them?
 *
 * Definition: the posterior of the means under a flat prior for means and log error, a multivariate t about the adjusted
 * means with the error's df. It takes no account of how many treatments were tried, and says nothing about other fields.
 *
 * @param means - of {@link AdjustedMeans}, with error df
 * @param better - whether the highest or the lowest mean is best
 * @param random - a seeded generator
 * @param draws - from the posterior
 * @returns the chances, or the refusal `noErrorDf` or `noErrorVariation`
 * Source: G. E. P. Box & G. C. Tiao (1973) Bayesian Inference in Statistical Analysis, section 2.11.
 */
export function chanceOfBest(
  means: AdjustedMeans,
  better: 'higher' | 'lower',
  random: RandomNumbers,
  draws = 1999,
): ChanceOfBest | Refusal {
  const { df, ms } = means.error;
  if (ms === null) return refuse('noErrorDf', { term: means.term });
  if (ms === 0) return refuse('noErrorVariation', { term: means.term, errorDf: df });
  const sign = better === 'higher' ? 1 : -1;
  const scale = Math.sqrt(ms);
  const factor = cholesky(means.unitCovariance);
  const wins = means.means.map(() => 0);
  for (let draw = 0; draw < draws; draw++) {
    const spread = scale / Math.sqrt(meanSquareOfNormals(df, random));
    const normals = means.means.map(() => normal(random));
    let best = 0;
    let most = Number.NEGATIVE_INFINITY;
    for (const [level, { deviation }] of means.means.entries()) {
      const own = sign * (deviation + spread * rowTimes(factor[level]!, normals));
      if (own > most) [best, most] = [level, own];
    }
    wins[best]! += 1;
  }
  const chances = wins.map((count) => count / draws);
  const standardError = Math.max(...chances.map((chance) => Math.sqrt((chance * (1 - chance)) / draws)));
  return { chances, draws, standardError };
}

/** Lower triangle; a direction without variance is left out. */
function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const factor: number[][] = [];
  matrix.forEach((row, i) => {
    const own: number[] = [];
    for (let j = 0; j <= i; j++) {
      const rest = own.reduce((sum, value, k) => sum + value * (j === i ? value : factor[j]![k]!), 0);
      const left = row[j]! - rest;
      if (j === i) own.push(Math.sqrt(Math.max(0, left)));
      else own.push(factor[j]![j] === 0 ? 0 : left / factor[j]![j]!);
    }
    factor.push(own);
  });
  return factor;
}

function rowTimes(row: readonly number[], normals: readonly number[]): number {
  return row.reduce((sum, value, k) => sum + value * normals[k]!, 0);
}

/** Box and Muller; 1 - u keeps the logarithm finite. */
function normal(random: RandomNumbers): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** A chi-squared with df over df: gamma of Marsaglia and Tsang (2000) ACM Trans. Math. Softw. 26:363-372. */
function meanSquareOfNormals(df: number, random: RandomNumbers): number {
  const shape = df / 2;
  const boosted = shape < 1 ? shape + 1 : shape;
  const d = boosted - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(1 - random()) >= 0.5 * x * x + d - d * v + d * Math.log(v)) continue;
    const gamma = d * v * (shape < 1 ? (1 - random()) ** (1 / shape) : 1);
    return (2 * gamma) / df;
  }
}
