import type { TrialDocument } from './trial-document.ts';

/** By how many seconds the signals of a file are moved back along the track. */
export interface FileShifts {
  readonly flowS: number;
  readonly moistureS: number;
}

/**
 * A shift of the file's own goes before that of the trial; moisture without any shift of its own goes with the flow.
 */
export function fileShifts(
  { harvest, harvestFiles }: Pick<TrialDocument, 'harvest' | 'harvestFiles'>,
  path: string,
): FileShifts {
  const said = harvestFiles.find((file) => file.path === path);
  const flowS = said?.shiftLagS ?? harvest.shiftLagS;
  return { flowS, moistureS: said?.shiftMoistureS ?? harvest.shiftMoistureS ?? flowS };
}
