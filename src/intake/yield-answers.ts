import type { HarvestFile, YieldColumnAnswers } from '../trial/trial-document.ts';

/** What the user answered about this yield column; all open where nothing was answered. */
export function yieldAnswers(heading: string, harvestFile: HarvestFile | null): YieldColumnAnswers {
  const answered = harvestFile?.yieldColumns.find((column) => column.heading === heading);
  if (answered !== undefined) return answered;
  return {
    heading,
    moistureBasis: null,
    atMoisturePercent: null,
    lagAppliedS: null,
    alreadyFiltered: null,
    loggedPosition: null,
  };
}
