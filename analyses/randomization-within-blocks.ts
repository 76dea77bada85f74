import { type Refusal, refuse } from './refusal.ts';
import type { RandomNumbers } from './seeded-generator.ts';

export interface RandomizationWithinBlocks {
  /** Sum of squares of treatments, adjusted for blocks, of the arrangement that was used. */
  readonly treatmentSs: number;
  /** Arrangements whose F is at least as large, the one used included. */
  readonly asExtreme: number;
  /** Arrangements looked at; up to relabelling of treatments where blocks are complete. */
  readonly arrangements: number;
  /** All of them, or drawn at random. */
  readonly exact: boolean;
  readonly p: number;
  /** Standard error of p that drawing leaves; 0 when exact. */
  readonly standardError: number;
  /** No result can be rarer than this: one over the arrangements that the design could have drawn. */
  readonly smallestP: number;
}

export interface RandomizedPlots {
  /** One a plot, from a common origin. */
  readonly deviations: readonly number[];
  readonly treatmentOfPlot: readonly number[];
  readonly treatments: number;
  /** Treatments change places within these alone; all the same in a completely randomized trial. */
  readonly blockOfPlot: readonly number[];
}

const MOST_EXACT = 200_000;
/** Sums of squares that differ by less than this share are ties. */
const TIE = 1e-9;

/**
 * The randomization test of treatments within blocks, all arrangements counted where there are at most 200,000: had
 * treatments been drawn otherwise, how often would F be as large? Rests on the randomisation alone.
 *
 * Definition: which treatments a block holds is fixed, so F rises with the treatment sum of squares adjusted for blocks,
 * which needs no refit: Q' C^-1 Q with Q the treatments' sums of block-centred values and C of the counts alone. Where
 * every block holds every treatment once, renaming treatments changes no F, and (t!)^(r-1) arrangements stand for all.
 *
 * @param plots - treatments linked through shared blocks
 * @param random - a seeded generator, used beyond 200,000 arrangements
 * @param draws - drawn there; the arrangement used is counted too, so p is never zero
 * @returns the result, or a refusal: `constantResponse` when nothing varies within blocks; `confoundedTerms` when
 * treatments are not linked
 * Source: R. A. Fisher (1935) The Design of Experiments, ch. 3; B. L. Welch (1937) Biometrika 29:21-52.
 */
export function randomizationWithinBlocks(
  plots: RandomizedPlots,
  random: RandomNumbers,
  draws = 1999,
): RandomizationWithinBlocks | Refusal {
  const blocks = blocksOf(plots);
  const within = blocks.flatMap(({ values }) => values).reduce((sum, value) => sum + value * value, 0);
  if (within === 0) return refuse('constantResponse', { plots: plots.deviations.length });
  const factor = choleskyOfCounts(blocks, plots.treatments);
  if (factor === null) return refuse('confoundedTerms', { term: 'treatment', with: 'block' });
  const ssOf = (sums: Float64Array) => squaredLength(factor, sums);
  const used = ssOf(sumsOf(blocks, plots.treatments));
  const limit = used * (1 - TIE) - TIE * TIE * within;
  const distinct = distinctArrangements(blocks, plots.treatments);
  const common = { treatmentSs: used, smallestP: distinct.smallestP };
  if (distinct.toCount <= MOST_EXACT) {
    const firstFixed = distinct.firstBlockFixed ? 1 : 0;
    const counted = countAll(blocks, plots.treatments, firstFixed, (sums) => ssOf(sums) >= limit);
    const p = counted.asExtreme / counted.arrangements;
    return { ...common, ...counted, exact: true, p, standardError: 0 };
  }
  const asExtreme = 1 + countDrawn(blocks, plots.treatments, random, draws, (sums) => ssOf(sums) >= limit);
  const p = asExtreme / (draws + 1);
  const standardError = Math.sqrt((p * (1 - p)) / draws);
  return { ...common, asExtreme, arrangements: draws + 1, exact: false, p, standardError };
}

interface Block {
  /** Values about the block's mean. */
  readonly values: readonly number[];
  readonly levels: readonly number[];
}

function blocksOf({ deviations, treatmentOfPlot, blockOfPlot }: RandomizedPlots): Block[] {
  return [...new Set(blockOfPlot)].map((block) => {
    const plots = blockOfPlot.flatMap((own, plot) => (own === block ? [plot] : []));
    const mean = plots.reduce((sum, plot) => sum + deviations[plot]! / plots.length, 0);
    return {
      values: plots.map((plot) => deviations[plot]! - mean),
      levels: plots.map((plot) => treatmentOfPlot[plot]!),
    };
  });
}

function countsIn({ levels }: Block, treatments: number): number[] {
  const counts = new Array<number>(treatments).fill(0);
  for (const level of levels) counts[level] = counts[level]! + 1;
  return counts;
}

/**
 * Cholesky factor of diag(plots of treatment) - sum over blocks of n n' / size, the last treatment left out. Counts only,
 * so nothing of the values' digits is at stake. null where it is singular: treatments not linked.
 */
function choleskyOfCounts(blocks: readonly Block[], treatments: number): number[][] | null {
  const counts = blocks.map((block) => countsIn(block, treatments));
  const entry = (i: number, j: number) =>
    blocks.reduce((sum, { levels }, b) => {
      const [ni, nj] = [counts[b]![i]!, counts[b]![j]!];
      return sum + (i === j ? ni : 0) - (ni * nj) / levels.length;
    }, 0);
  const factor: number[][] = [];
  for (let i = 0; i < treatments - 1; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      const rest = row.reduce((sum, own, k) => sum + own * (j === i ? own : factor[j]![k]!), 0);
      const left = entry(i, j) - rest;
      if (j < i) row.push(left / factor[j]![j]!);
      else if (left > 1e-9) row.push(Math.sqrt(left));
      else return null;
    }
    factor.push(row);
  }
  return factor;
}

/** |L^-1 Q|^2 by forward substitution. */
function squaredLength(factor: readonly (readonly number[])[], sums: Float64Array): number {
  const solved = new Float64Array(factor.length);
  let squared = 0;
  for (let i = 0; i < factor.length; i++) {
    let left = sums[i]!;
    for (let k = 0; k < i; k++) left -= factor[i]![k]! * solved[k]!;
    const own = left / factor[i]![i]!;
    solved[i] = own;
    squared += own * own;
  }
  return squared;
}

function sumsOf(blocks: readonly Block[], treatments: number): Float64Array {
  const sums = new Float64Array(treatments);
  for (const { values, levels } of blocks)
    values.forEach((value, i) => {
      sums[levels[i]!] = sums[levels[i]!]! + value;
    });
  return sums;
}

interface Distinct {
  readonly toCount: number;
  readonly firstBlockFixed: boolean;
  readonly smallestP: number;
}

/** How many arrangements there are, and how many of them are one another's relabelling. */
function distinctArrangements(blocks: readonly Block[], treatments: number): Distinct {
  const counts = blocks.map((block) => countsIn(block, treatments));
  const logOfBlock = counts.map(
    (own) => own.reduce((log, n) => log - logFactorial(n), 0) + logFactorial(own.reduce((a, b) => a + b, 0)),
  );
  const logAll = logOfBlock.reduce((sum, own) => sum + own, 0);
  const once = counts.every((own) => own.every((n) => n === 1));
  const logAlike = once ? logFactorial(treatments) : logRelabellings(counts, treatments);
  return {
    toCount: Math.round(Math.exp(once ? logAll - logAlike : logAll)),
    firstBlockFixed: once,
    smallestP: Math.exp(logAlike - logAll),
  };
}

/** Treatments with the same counts in every block may change names. */
function logRelabellings(counts: readonly (readonly number[])[], treatments: number): number {
  const groups = new Map<string, number>();
  for (let level = 0; level < treatments; level++) {
    const key = counts.map((own) => own[level]).join(' ');
    groups.set(key, (groups.get(key) ?? 0) + 1);
  }
  return [...groups.values()].reduce((log, size) => log + logFactorial(size), 0);
}

function logFactorial(n: number): number {
  let log = 0;
  for (let i = 2; i <= n; i++) log += Math.log(i);
  return log;
}

function countAll(
  blocks: readonly Block[],
  treatments: number,
  from: number,
  isAsExtreme: (sums: Float64Array) => boolean,
): { readonly asExtreme: number; readonly arrangements: number } {
  const sums = sumsOf(blocks.slice(0, from), treatments);
  const left = blocks.map((block) => countsIn(block, treatments));
  let asExtreme = 0;
  let arrangements = 0;
  const place = (block: number, plot: number): void => {
    if (block === blocks.length) {
      arrangements++;
      if (isAsExtreme(sums)) asExtreme++;
      return;
    }
    const { values } = blocks[block]!;
    if (plot === values.length) {
      place(block + 1, 0);
      return;
    }
    const counts = left[block]!;
    for (let level = 0; level < treatments; level++) {
      if (counts[level] === 0) continue;
      const before = sums[level]!;
      counts[level] = counts[level]! - 1;
      sums[level] = before + values[plot]!;
      place(block, plot + 1);
      sums[level] = before;
      counts[level] = counts[level]! + 1;
    }
  };
  place(from, 0);
  return { asExtreme, arrangements };
}

function countDrawn(
  blocks: readonly Block[],
  treatments: number,
  random: RandomNumbers,
  draws: number,
  isAsExtreme: (sums: Float64Array) => boolean,
): number {
  const drawn = blocks.map(({ values, levels }) => ({ values, levels: [...levels] }));
  let count = 0;
  for (let draw = 0; draw < draws; draw++) {
    for (const { levels } of drawn) shuffle(levels, random);
    if (isAsExtreme(sumsOf(drawn, treatments))) count++;
  }
  return count;
}

/** In place (Fisher and Yates): shuffling what was shuffled before is as random as starting afresh. */
function shuffle(levels: number[], random: RandomNumbers): void {
  for (let i = levels.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const held = levels[i]!;
    levels[i] = levels[j]!;
    levels[j] = held;
  }
}
