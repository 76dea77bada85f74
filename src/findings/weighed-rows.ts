import type { WeighedHarvest } from '../harvest/scale-weights.ts';
import { yieldUnit } from '../trial/display-units.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { scaleSentence } from '../words/scale-sentences.ts';
import type { ReportModel } from './report-model.ts';
import { distinctNames } from './treatment-names.ts';

export type WeighedLoads = Pick<WeighedHarvest, 'loads' | 'levelFactor' | 'ratioTest'>;

/** Scale beside monitor, load by load, in the trial's yield unit. */
export function reportWeighed(trial: TrialDocument, weighed: WeighedLoads | null): ReportModel['weighed'] {
  if (weighed === null) return null;
  const { label, perSi } = yieldUnit(trial);
  const names = distinctNames(trial.treatments);
  const treatmentOf = new Map(trial.strips.map(({ id, treatment }) => [id, treatment]));
  const { levelFactor, ratioTest } = weighed;
  return {
    unit: label,
    loads: weighed.loads.map(({ strips, use, monitorKgPerHa, scaleKgPerHa, ratio }) => ({
      strips: [...strips],
      treatments: [...new Set(strips.map((id) => named(treatmentOf.get(id) ?? null, names)))],
      use,
      monitor: monitorKgPerHa * perSi,
      scale: scaleKgPerHa * perSi,
      ratio,
    })),
    levelFactor,
    ratioP: ratioTest.p,
    meaning: scaleSentence(ratioTest.p),
  };
}

function named(treatment: string | null, names: ReadonlyMap<string, string>): string {
  return treatment === null ? '' : (names.get(treatment) ?? treatment);
}
