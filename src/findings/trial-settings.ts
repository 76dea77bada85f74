import type { TrialDocument } from '../trial/trial-document.ts';

/** Every setting of the document that shaped the figures, by its path, as JSON text. */
export function trialSettings(trial: TrialDocument): Record<string, string> {
  const { crop, standardMoisturePercent, unitSystem, design, randomised } = trial;
  return Object.fromEntries([
    ...entries('', { crop, standardMoisturePercent, unitSystem, design, randomised }),
    ...entries('', { layoutMove: trial.layoutMove }),
    ...entries('inference.', trial.inference),
    ...entries('harvest.', trial.harvest),
    ...entries('economics.', trial.economics),
    ...trial.treatments.flatMap(({ isCheck, costPerHa, applicationCostPerHa, factorLevels }, index) =>
      entries(`treatments.${index}.`, { isCheck, costPerHa, applicationCostPerHa, factorLevels }),
    ),
    ...trial.strips.flatMap(({ row, column, covariate }, index) =>
      entries(`strips.${index}.`, { row, column, covariate }),
    ),
    ...trial.harvestFiles.flatMap(({ kind, columns, yieldColumns }, index) =>
      entries(`harvestFiles.${index}.`, { kind, columns, yieldColumns }),
    ),
    ...(trial.layoutFile === null ? [] : entries('layoutFile.', { properties: trial.layoutFile.properties })),
  ]);
}

function entries(prefix: string, settings: Readonly<Record<string, unknown>>): [string, string][] {
  return Object.entries(settings).flatMap(([key, value]): [string, string][] =>
    value === undefined ? [] : [[`${prefix}${key}`, JSON.stringify(value)]],
  );
}
