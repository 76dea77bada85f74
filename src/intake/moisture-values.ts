import type { Problem } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';

export interface MoisturePlace {
  readonly file: string | null;
  readonly rowNumbers: ArrayLike<number>;
  readonly heading: string;
  /** Whether the impossible values stay in the data. */
  readonly kept: boolean;
}

/** No grain holds 0 or 100 % of water, nor less or more. */
export function isImpossibleMoisture(percent: number): boolean {
  return percent <= 0 || percent >= 100;
}

/** Shares from 0 to 1 under a heading read as percent would turn 15 % into 0.15 %: the unit must be said. */
export function moistureProblems(percent: Float64Array, at: MoisturePlace, unitWasSaid: boolean): Problem[] {
  const largest = largestOf(percent);
  if (!unitWasSaid && largest > 0 && largest <= 1) {
    return [intakeProblem('moistureLooksLikeShare', { file: at.file, column: at.heading }, { largest })];
  }
  if (largest < 100 && !holdsNoneOrLess(percent)) return [];
  const first = percent.findIndex(isImpossibleMoisture);
  if (first < 0) return [];
  const place = { file: at.file, row: at.rowNumbers[first] ?? null, column: at.heading };
  const count = percent.filter(isImpossibleMoisture).length;
  return [
    intakeProblem('moistureImpossible', place, { value: percent[first] ?? null, count, kept: at.kept }),
  ];
}

function holdsNoneOrLess(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i += 1) if (values[i]! <= 0) return true;
  return false;
}

function largestOf(values: Float64Array): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i += 1) if (values[i]! > largest) largest = values[i]!;
  return largest;
}
