import type { Crop } from '../trial/crops.ts';
import type { Problem } from '../trial/problem.ts';
import type { KnownUnit } from './known-units.ts';
import { intakeProblem } from './problem-codes.ts';
import type { RecognisedColumn } from './recognition.ts';

export interface Converted {
  /** Value in the file × factor = value inside (kg/ha, kg/s, kg, m, m², m/s, %, degrees, s). */
  readonly factor: number;
  readonly problems: readonly Problem[];
}

/** Bushels are a volume; only a crop's pounds per bushel make a mass of them. */
export function unitFactor(
  column: RecognisedColumn,
  unit: KnownUnit | null,
  crop: Crop | null,
  file: string | null,
): Converted {
  if (unit === null) return { factor: 1, problems: [] };
  if (!unit.inBushels) return { factor: unit.factor, problems: [] };
  if (crop !== null) return { factor: unit.factor * crop.poundsPerBushel, problems: [] };
  const details = { role: column.role, unit: column.unit ?? unit.name };
  return {
    factor: Number.NaN,
    problems: [intakeProblem('bushelsNeedCrop', { file, column: column.heading }, details)],
  };
}
