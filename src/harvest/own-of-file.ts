import { fileShifts } from '../trial/file-shifts.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';

/** What is done to one file's signals, which another file of the trial may not need: seconds moved back, and calibration. */
export interface OwnOfFile {
  readonly flowShiftS: number;
  readonly moistureShiftS: number;
  /** Masses are multiplied by it: true mass over what the monitor said. */
  readonly massFactor: number;
  /** Where the factor comes from, in the user's words; null: not said. */
  readonly factorFrom: string | null;
}

/** By the settings of the whole trial. */
export function ownBySettings({ shiftLagS, shiftMoistureS }: HarvestSettings): OwnOfFile {
  const moistureShiftS = shiftMoistureS ?? shiftLagS;
  return { flowShiftS: shiftLagS, moistureShiftS, massFactor: 1, factorFrom: null };
}

/** What the trial says of one file. `movedS` is added to both shifts, as when other lags are tried. */
export function ownOfFile(
  trial: Pick<TrialDocument, 'harvest' | 'harvestFiles'>,
  path: string,
  movedS = 0,
): OwnOfFile {
  const said = trial.harvestFiles.find((file) => file.path === path);
  const { flowS, moistureS } = fileShifts(trial, path);
  return {
    flowShiftS: flowS + movedS,
    moistureShiftS: moistureS + movedS,
    massFactor: said?.calibrationFactor ?? 1,
    factorFrom: said?.calibrationFrom ?? null,
  };
}
