import { FEWEST_STATIONS, readAt, type StationedPass } from './lag-passes.ts';
import { medianOf } from './logging-interval.ts';

export type LagSignal = 'flow' | 'moisture';

/** Two neighbouring passes driven in opposite directions, and the stations that both have. */
export interface NeighbourPair {
  readonly passes: readonly [StationedPass, StationedPass];
  readonly firstStation: number;
  readonly stations: number;
}

/** Neighbours lie no farther apart than so many headers, or metres where the header is not known. */
const FARTHEST_HEADERS = 3;
const FARTHEST_M = 40;
/** Deviations beyond so many robust standard deviations of their pass are drawn in to there. */
const DRAWN_IN_SD = 3;
const NORMAL_MAD = 1.4826;

/** Each pass with the next one to its right that was driven the other way and shares enough ground along. */
export function neighbourPairs(passes: readonly StationedPass[], headerM: number): readonly NeighbourPair[] {
  const farthestM = headerM > 0 ? FARTHEST_HEADERS * headerM : FARTHEST_M;
  const sorted = [...passes].sort((a, b) => a.acrossM - b.acrossM);
  return sorted.flatMap((pass, k) => {
    for (const other of sorted.slice(k + 1)) {
      if (other.acrossM - pass.acrossM > farthestM) return [];
      const pair = other.direction === pass.direction ? null : sharing(pass, other);
      if (pair !== null) return [pair];
    }
    return [];
  });
}

function sharing(a: StationedPass, b: StationedPass): NeighbourPair | null {
  const firstStation = Math.max(a.firstStation, b.firstStation);
  const end = Math.min(a.firstStation + a.stationS.length, b.firstStation + b.stationS.length);
  const stations = end - firstStation;
  return stations < FEWEST_STATIONS ? null : { passes: [a, b], firstStation, stations };
}

/** Half the mean squared difference of two passes over their mean variance: 0 alike, 1 nothing in common. */
export function disagreementOf(pair: NeighbourPair, signal: LagSignal, lagS: number): number {
  const [a, b] = pair.passes.map((pass) => profile(pass, pair, signal, lagS)) as [Float64Array, Float64Array];
  const both = a.map((value, k) => (Number.isNaN(value + b[k]!) ? 0 : 1));
  const [deviationsA, deviationsB] = [deviations(a, both), deviations(b, both)];
  let difference = 0;
  let spread = 0;
  deviationsA.forEach((value, k) => {
    difference += (value - deviationsB[k]!) ** 2;
    spread += value ** 2 + deviationsB[k]! ** 2;
  });
  return difference / spread;
}

/** What was cut at the pair's stations if the lag is right: flow over ground, or moisture as read. */
function profile(
  pass: StationedPass,
  { firstStation, stations }: NeighbourPair,
  signal: LagSignal,
  lagS: number,
): Float64Array {
  const { logged } = pass;
  const from = firstStation - pass.firstStation;
  const times = pass.stationS.subarray(from, from + stations);
  const read = readAt(
    signal === 'flow' ? logged.flow : (logged.moisturePercent ?? logged.flow),
    logged.timeS,
    times,
    lagS,
  );
  const ground = pass.groundPerS.subarray(from, from + stations);
  return read.map((value, k) => (signal === 'flow' ? value / ground[k]! : value + 0 * ground[k]!));
}

/** Relative deviations from the middle where both passes have a value, 0 elsewhere; single wild ones drawn in. */
function deviations(values: Float64Array, both: Float64Array): Float64Array {
  const known = values.filter((_, k) => both[k] === 1);
  const middle = medianOf(known.slice()) ?? Number.NaN;
  const limit =
    DRAWN_IN_SD * NORMAL_MAD * (medianOf(known.map((value) => Math.abs(value - middle))) ?? Number.NaN);
  const drawn = values.map((value) => Math.min(limit, Math.max(-limit, value - middle)));
  const mean = drawn.reduce((sum, value, k) => sum + (both[k] === 1 ? value : 0), 0) / known.length;
  return drawn.map((value, k) => (both[k] === 1 ? (value - mean) / middle : 0));
}
