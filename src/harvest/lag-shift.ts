/**
 * A signal moved back along the track by the transit lag: what the sensor reads at t + lag was cut at t. Between
 * two readings it is taken straight across; where the run holds no reading that late (or early) it is NaN.
 */
export function shiftedBack(
  signal: Float64Array,
  timeS: Float64Array,
  run: Int32Array,
  lagS: number,
): Float64Array {
  const shifted = new Float64Array(signal.length).fill(Number.NaN);
  let reader = 0;
  for (let i = 0; i < signal.length; i++) {
    const wanted = timeS[i]! + lagS;
    if (i > 0 && run[i] !== run[i - 1]) reader = i;
    while (reader + 1 < signal.length && run[reader + 1] === run[i] && timeS[reader + 1]! <= wanted)
      reader += 1;
    shifted[i] = readingAt(signal, timeS, run, reader, wanted, run[i]!);
  }
  return shifted;
}

function readingAt(
  signal: Float64Array,
  timeS: Float64Array,
  run: Int32Array,
  before: number,
  wanted: number,
  ownRun: number,
): number {
  if (run[before] !== ownRun || timeS[before]! > wanted) return Number.NaN;
  if (timeS[before] === wanted) return signal[before]!;
  const after = before + 1;
  if (after >= signal.length || run[after] !== ownRun) return Number.NaN;
  const share = (wanted - timeS[before]!) / (timeS[after]! - timeS[before]!);
  return signal[before]! + share * (signal[after]! - signal[before]!);
}
