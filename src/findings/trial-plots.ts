import type { Strip, TrialDocument } from '../trial/trial-document.ts';
import { type Judging, PLAIN_MODEL, type ResponsePlots } from './response-plots.ts';
import { distinctNames } from './treatment-names.ts';

/** One response of a trial's strips, in the unit in which people read it. */
export interface StripResponse {
  readonly name: string;
  readonly unit: string | null;
  readonly better: ResponsePlots['better'];
  /** Value of each strip, in the trial's order; null: lost or not measured. */
  readonly values: readonly (number | null)[];
}

/** Blocks count where the trial was set out in them and at least one strip says which is its own. */
export function blocksAreUsed(trial: TrialDocument): boolean {
  return trial.design === 'randomizedCompleteBlocks' && trial.strips.some(({ block }) => block !== null);
}

/** The strips as the analysis sees them: one place where treatments, blocks and places of a trial become plots. */
export function plotsOfTrial(trial: TrialDocument, response: StripResponse): ResponsePlots {
  const treatments = indexById(trial.treatments);
  const blocks = indexById(trial.blocks);
  const plot = (strip: Strip, index: number) => ({
    treatment: treatments.get(strip.treatment) ?? 0,
    block: strip.block === null ? null : (blocks.get(strip.block) ?? null),
    deviation: response.values[index] ?? null,
    place: strip.place,
    label: strip.id,
  });
  return {
    name: response.name,
    unit: response.unit,
    better: response.better,
    treatments: [...distinctNames(trial.treatments).values()],
    blocks: blocksAreUsed(trial) ? [...distinctNames(trial.blocks).values()] : null,
    origin: 0,
    plots: trial.strips.map(plot),
    model: modelOfTrial(trial, response.name),
    followsRate: trial.inference.followsRate === true,
  };
}

/** A scale is that of yields; a trend runs under every response. */
function modelOfTrial({ inference }: TrialDocument, response: string): ResponsePlots['model'] & object {
  const { scale, trend } = inference;
  return {
    ...PLAIN_MODEL,
    trend: trend ? { heading: 'place across the field', shape: trend } : null,
    scale: response === 'yield' ? (scale ?? null) : null,
  };
}

/** How the trial wants its differences judged; `marginPerSi` turns its margin of yield into the response's unit, null: none applies. */
export function judgingOfTrial(trial: TrialDocument, marginPerSi: number | null): Judging {
  const { alpha, decidedBy, comparisons, namedPairs, marginKgPerHa } = trial.inference;
  const treatments = indexById(trial.treatments);
  const check = trial.treatments.findIndex(({ isCheck }) => isCheck);
  return {
    alpha,
    decidedBy,
    comparisons,
    namedPairs: namedPairs.map(([a, b]) => [treatments.get(a) ?? 0, treatments.get(b) ?? 0]),
    check: check < 0 ? null : check,
    margin: marginPerSi === null || marginKgPerHa === null ? null : marginKgPerHa * marginPerSi,
  };
}

function indexById(entries: readonly { readonly id: string }[]): ReadonlyMap<string, number> {
  return new Map(entries.map(({ id }, index) => [id, index]));
}
