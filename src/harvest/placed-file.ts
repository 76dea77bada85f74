import type { LocalProjection } from '../geometry/local-projection.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { type LoggingInterval, loggingInterval } from './logging-interval.ts';
import { inTimeOrder } from './time-order.ts';

/** A file as it was driven, with every point in local metres and in the strip that holds it. */
export interface PlacedFile {
  readonly input: HarvestPointsInput;
  /** Row of the file at each place; null: as it stands. */
  readonly order: Int32Array | null;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  /** Index into the trial's strips, -1: none. */
  readonly strip: Int32Array;
  readonly interval: LoggingInterval;
}

export function placeFile(
  file: HarvestPointsInput,
  projection: LocalProjection,
  findStrip: (eastM: number, northM: number) => number,
): PlacedFile {
  const { driven, order } = inTimeOrder(file);
  const eastM = new Float64Array(driven.count);
  const northM = new Float64Array(driven.count);
  const strip = new Int32Array(driven.count).fill(-1);
  projection.placeAll(driven, { eastM, northM });
  for (let i = 0; i < driven.count; i++) {
    const [east, north] = [eastM[i]!, northM[i]!];
    if (Number.isFinite(east) && Number.isFinite(north)) strip[i] = findStrip(east, north);
  }
  const interval = loggingInterval(driven.timeS, eastM, northM);
  return { input: driven, order, eastM, northM, strip, interval };
}
