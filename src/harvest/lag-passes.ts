import { acrossM, alongM, type OrientedStrip } from '../geometry/oriented-strip.ts';
import { medianOf } from './logging-interval.ts';

export type FieldAxis = Pick<OrientedStrip, 'centreEastM' | 'centreNorthM' | 'alongEast' | 'alongNorth'>;

/** What was logged along one pass, in the order driven; parallel arrays. */
export interface LoggedPass {
  readonly timeS: Float64Array;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  /** Mass a second. */
  readonly flow: Float64Array;
  /** Ground cut a second. */
  readonly groundPerS: Float64Array;
  readonly moisturePercent: Float64Array | null;
}

/** A pass laid out on stations along the field, so that it can be read again for any lag. */
export interface StationedPass {
  /** 1: driven along the axis; -1: against it. */
  readonly direction: 1 | -1;
  readonly acrossM: number;
  /** Number of the first station along the axis, in steps of `STATION_M`; stations run with the axis. */
  readonly firstStation: number;
  /** When the machine stood at each station. */
  readonly stationS: Float64Array;
  /** Ground cut a second at each station; NaN where the machine went slow, since mixing smears what was cut there. */
  readonly groundPerS: Float64Array;
  readonly logged: LoggedPass;
}

export const STATION_M = 2;
export const LONGEST_LAG_S = 15;
/** Time in which flow comes up or dies away at the ends of a pass, on top of the lag. */
const RAMP_S = 6;
export const FEWEST_STATIONS = 20;
const SLOW_SHARE = 0.6;

/**
 * Lays a pass out on stations. Only stations that can be read for every lag between -15 and 15 s are used, and none
 * whose readings could come from the ramps at the pass's ends; null where too few are left.
 */
export function stationedPass(logged: LoggedPass, axis: FieldAxis): StationedPass | null {
  const count = logged.timeS.length;
  const steady = steadyFlow(logged);
  if (steady === null) return null;
  const along = logged.eastM.map((east, i) => alongM(axis, east, logged.northM[i]!));
  const direction = along[count - 1]! >= along[0]! ? 1 : -1;
  const from = steady.fromS + LONGEST_LAG_S + RAMP_S;
  const to = steady.toS - LONGEST_LAG_S - RAMP_S;
  const stations = timesAtStations(along, logged.timeS, direction).filter(
    ({ atS }) => atS >= from && atS <= to,
  );
  if (stations.length < FEWEST_STATIONS) return null;
  if (direction < 0) stations.reverse();
  const stationS = Float64Array.from(stations, ({ atS }) => atS);
  return {
    direction,
    acrossM: medianOf(logged.eastM.map((east, i) => acrossM(axis, east, logged.northM[i]!))) ?? 0,
    firstStation: stations[0]!.station,
    stationS,
    groundPerS: withoutSlow(readAt(logged.groundPerS, logged.timeS, stationS, 0)),
    logged,
  };
}

/** From when until when the flow stands above half of its usual height. */
function steadyFlow({ flow, timeS }: LoggedPass): { readonly fromS: number; readonly toS: number } | null {
  const usual = medianOf(flow.filter((kgPerS) => kgPerS > 0));
  if (usual === null) return null;
  const first = flow.findIndex((kgPerS) => kgPerS > usual / 2);
  const last = flow.findLastIndex((kgPerS) => kgPerS > usual / 2);
  return { fromS: timeS[first]!, toS: timeS[last]! };
}

/** When each station was passed for the first time; stations follow each other without a gap. */
function timesAtStations(
  along: Float64Array,
  timeS: Float64Array,
  direction: 1 | -1,
): { readonly station: number; readonly atS: number }[] {
  const stations: { station: number; atS: number }[] = [];
  let next = direction > 0 ? Math.ceil(along[0]! / STATION_M) : Math.floor(along[0]! / STATION_M);
  for (let i = 1; i < along.length; i++) {
    while (direction * (along[i]! - next * STATION_M) >= 0) {
      const share = (next * STATION_M - along[i - 1]!) / (along[i]! - along[i - 1]!);
      stations.push({ station: next, atS: timeS[i - 1]! + share * (timeS[i]! - timeS[i - 1]!) });
      next += direction;
    }
  }
  return stations;
}

function withoutSlow(groundPerS: Float64Array): Float64Array {
  const usual = medianOf(groundPerS.slice()) ?? 0;
  return groundPerS.map((rate) => (rate > SLOW_SHARE * usual ? rate : Number.NaN));
}

/** A signal at each time plus the lag, straight between two readings; the times all run one way. */
export function readAt(
  signal: Float64Array,
  timeS: Float64Array,
  times: Float64Array,
  lagS: number,
): Float64Array {
  const last = timeS.length - 2;
  let at = 0;
  return times.map((time) => {
    const wanted = time + lagS;
    while (at < last && timeS[at + 1]! <= wanted) at += 1;
    while (at > 0 && timeS[at]! > wanted) at -= 1;
    const share = (wanted - timeS[at]!) / (timeS[at + 1]! - timeS[at]!);
    return signal[at]! + share * (signal[at + 1]! - signal[at]!);
  });
}
