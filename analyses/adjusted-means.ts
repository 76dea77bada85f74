import { compensatedDot, compensatedMean } from './compensated-sum.ts';
import { weightsOnBasis } from './householder.ts';
import type { LinearModelFit } from './linear-model.ts';
import { crossedFactors, levelCoding } from './model-columns.ts';
import type { FactorTerm, InteractionTerm, ModelTerm } from './model-terms.ts';
import { type Refusal, refuse } from './refusal.ts';

/** The mean of one level of a factor, or of one cell of an interaction. */
export interface AdjustedMean {
  /** Level of the factor; for an interaction, levelOfFirst * levelCount of second + levelOfSecond. */
  readonly level: number;
  /** Plots. */
  readonly n: number;
  readonly rawMean: number;
  readonly mean: number;
  /** mean - origin of the response: differences between levels are taken from these. */
  readonly deviation: number;
  /** sqrt(error ms * variance of the mean); null without error df. */
  readonly standardError: number | null;
}

export interface AdjustedMeans {
  readonly term: string;
  readonly means: readonly AdjustedMean[];
  /** levels x levels; covariance of the means = error ms * unitCovariance. */
  readonly unitCovariance: readonly (readonly number[])[];
  readonly error: LinearModelFit['error'];
}

/**
 * Means of a factor's levels, or an interaction's cells, freed of what else stands in the model (least squares means).
 *
 * Definition: the fitted value at that level, averaged equally over the levels of all other factors, every covariate
 * at its mean over the plots. In a complete orthogonal trial this is the plain mean.
 *
 * @param fit - of {@link fitLinearModel}; what it could not estimate it has refused already
 * @param termId - a factor or interaction of the model
 * @returns the means, or the refusal `tooFewTreatments` {term, levels} for fewer than two levels
 * @throws RangeError when there is no such term, or it is a covariate
 * Source: S. R. Searle, F. M. Speed & G. A. Milliken (1980) Am. Stat. 34:216-221.
 */
export function adjustedMeans(fit: LinearModelFit, termId: string): AdjustedMeans | Refusal {
  const term = fit.terms.find((candidate) => candidate.id === termId);
  if (term === undefined || term.kind === 'covariate' || term.kind === 'covariates')
    throw new RangeError(
      `adjustedMeans: expected a factor or interaction, got ${term?.kind ?? 'none'} ${termId}`,
    );
  const { cellOfPlot, weights, unitCovariance } = cellWeights(term, fit);
  if (weights.length < 2) return refuse('tooFewTreatments', { term: termId, levels: weights.length });

  const { deviations, origin } = fit.response;
  const overall = compensatedMean(deviations);
  const inCells = weights.map((): number[] => []);
  deviations.forEach((deviation, plot) => {
    inCells[cellOfPlot[plot]!]!.push(deviation);
  });
  const means = weights.map((own, level): AdjustedMean => {
    const inLevel = inCells[level]!;
    const deviation = overall + compensatedDot(own, fit.coordinates);
    const variance = fit.error.ms === null ? null : fit.error.ms * unitCovariance[level]![level]!;
    return {
      level,
      n: inLevel.length,
      rawMean: origin + compensatedMean(inLevel),
      mean: origin + deviation,
      deviation,
      standardError: variance === null ? null : Math.sqrt(variance),
    };
  });
  return { term: termId, means, unitCovariance, error: fit.error };
}

/** What the means of a term owe to the design alone. */
interface CellWeights {
  readonly cellOfPlot: readonly number[];
  /** Of the coordinates along the basis, in the mean of each cell. */
  readonly weights: readonly (readonly number[])[];
  readonly unitCovariance: readonly (readonly number[])[];
}

/** By basis, then by term: fits of one design share their basis. */
const kept = new WeakMap<LinearModelFit['basis'], Map<string, CellWeights>>();

function cellWeights(term: FactorTerm | InteractionTerm, { basis, terms }: LinearModelFit): CellWeights {
  const ofBasis = kept.get(basis) ?? new Map<string, CellWeights>();
  kept.set(basis, ofBasis);
  const known = ofBasis.get(term.id);
  if (known !== undefined) return known;
  const { cellOfPlot, codings } = cellsOf(term, terms);
  const weights = codings.map((coding) => weightsOnBasis(basis.triangle, weightsOfCell(coding, term, terms)));
  const unitCovariance = weights.map((a) => weights.map((b) => compensatedDot(a, b)));
  const made = { cellOfPlot, weights, unitCovariance };
  ofBasis.set(term.id, made);
  return made;
}

interface Cells {
  readonly cellOfPlot: readonly number[];
  /** For each cell, the codings of the levels it stands for, by factor id. */
  readonly codings: readonly Readonly<Record<string, readonly number[]>>[];
}

function cellsOf(term: FactorTerm | InteractionTerm, terms: readonly ModelTerm[]): Cells {
  if (term.kind === 'factor')
    return {
      cellOfPlot: term.levelOfPlot,
      codings: codingsOf(term).map((coding) => ({ [term.id]: coding })),
    };
  const [first, second] = crossedFactors(term, terms);
  return {
    cellOfPlot: first.levelOfPlot.map((level, i) => level * second.levelCount + second.levelOfPlot[i]!),
    codings: codingsOf(first).flatMap((a) =>
      codingsOf(second).map((b) => ({ [first.id]: a, [second.id]: b })),
    ),
  };
}

function codingsOf(factor: FactorTerm): number[][] {
  return Array.from({ length: factor.levelCount }, (_, level) => levelCoding(level, factor.levelCount));
}

/** Weights of the model's columns in the mean of one cell: columns of factors that are averaged over weigh nothing. */
function weightsOfCell(
  coding: Cells['codings'][number],
  target: FactorTerm | InteractionTerm,
  terms: readonly ModelTerm[],
): number[] {
  const weights = terms.flatMap((term) => {
    if (term.kind === 'factor') return coding[term.id] ?? new Array<number>(term.levelCount - 1).fill(0);
    if (term.kind === 'covariate') return [0];
    if (term.kind === 'covariates') return term.valuesOfPlot.map(() => 0);
    const [first, second] = crossedFactors(term, terms);
    const a = target.kind === 'interaction' ? coding[first.id] : undefined;
    const b = target.kind === 'interaction' ? coding[second.id] : undefined;
    if (a === undefined || b === undefined)
      return new Array<number>((first.levelCount - 1) * (second.levelCount - 1)).fill(0);
    return a.flatMap((x) => b.map((y) => x * y));
  });
  return [1, ...weights];
}
