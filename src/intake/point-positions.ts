import type { Problem } from '../trial/problem.ts';
import { areEastward } from './eastward-longitudes.ts';
import { intakeProblem } from './problem-codes.ts';

/** Where positions stand, so that a fault can be named. */
export interface PositionPlace {
  readonly file: string | null;
  readonly rowNumbers: ArrayLike<number>;
  readonly longitudeHeading: string;
  readonly latitudeHeading: string;
}

/**
 * Sets impossible positions to NaN (beyond ±90 and ±180 degrees, or both exactly 0) and names them; where most are
 * impossible, says why: swapped columns, or metres instead of degrees. Such an error stops the reading.
 */
export function screenPositions(
  longitude: Float64Array,
  latitude: Float64Array,
  at: PositionPlace,
): Problem[] {
  const readable = countReadable(longitude, latitude);
  const badLatitude = indicesWhere(latitude, (value) => Math.abs(value) > 90);
  const badLongitude = indicesWhere(longitude, (value) => Math.abs(value) > 180);
  if (badLatitude.length === 0 && badLongitude.length > 0) {
    const eastward = turnedFromEastward(longitude, latitude, badLongitude, at);
    if (eastward !== null) return [eastward, ...screenPositions(longitude, latitude, at)];
  }
  const isAnyBad = badLatitude.length + badLongitude.length > 0;
  const wrong = isAnyBad ? whyMostAreImpossible(longitude, latitude, readable, at) : null;
  if (wrong !== null) return [wrong];
  const problems = [
    ...outOfRange(latitude, badLatitude, 90, at.latitudeHeading, at),
    ...outOfRange(longitude, badLongitude, 180, at.longitudeHeading, at),
  ];
  const zero = indicesWhere(latitude, (value, index) => value === 0 && longitude[index] === 0);
  if (zero[0] !== undefined) {
    const place = { file: at.file, row: at.rowNumbers[zero[0]] ?? null };
    problems.push(intakeProblem('positionZero', place, { count: zero.length }));
  }
  for (const index of [...badLatitude, ...badLongitude, ...zero]) {
    longitude[index] = Number.NaN;
    latitude[index] = Number.NaN;
  }
  return problems;
}

/** Longitudes from 0 to 360 are brought to ±180, in place; rows without a fix are none. null: they are not such. */
function turnedFromEastward(
  longitude: Float64Array,
  latitude: Float64Array,
  beyond: readonly number[],
  at: PositionPlace,
): Problem | null {
  const isFix = (i: number) => !(longitude[i] === 0 && latitude[i] === 0);
  const fixes = indicesWhere(longitude, (_, i) => isReadable(longitude, latitude, i) && isFix(i));
  if (!areEastward(fixes.map((i) => [longitude[i]!, latitude[i]!]))) return null;
  const first = longitude[beyond[0]!]!;
  for (const i of beyond) longitude[i]! -= 360;
  const place = { file: at.file, column: at.longitudeHeading };
  const details = { longitude: first, readAs: first - 360, count: beyond.length };
  return intakeProblem('longitudesEastward', place, details);
}

/** A receiver that never moved, or a position copied down the column: no strip can be told from another. */
export function allInOnePlace(longitude: Float64Array, latitude: Float64Array, file: string): Problem[] {
  const readable = countReadable(longitude, latitude);
  if (readable < 2 || moves(longitude, latitude)) return [];
  return [intakeProblem('allInOnePlace', { file }, { count: readable })];
}

function isReadable(longitude: Float64Array, latitude: Float64Array, i: number): boolean {
  return !Number.isNaN(longitude[i]! + latitude[i]!);
}

function countReadable(longitude: Float64Array, latitude: Float64Array): number {
  let count = 0;
  for (let i = 0; i < longitude.length; i += 1) if (isReadable(longitude, latitude, i)) count += 1;
  return count;
}

/** Ends at the second place met, so a file of a machine that drove costs nothing. */
function moves(longitude: Float64Array, latitude: Float64Array): boolean {
  let first = -1;
  for (let i = 0; i < longitude.length; i += 1) {
    if (!isReadable(longitude, latitude, i)) continue;
    if (first < 0) first = i;
    if (longitude[i] !== longitude[first] || latitude[i] !== latitude[first]) return true;
  }
  return false;
}

function whyMostAreImpossible(
  longitude: Float64Array,
  latitude: Float64Array,
  readable: number,
  at: PositionPlace,
): Problem | null {
  const most = (bad: readonly number[]) => bad.length * 2 > readable;
  const far = indicesWhere(
    latitude,
    (value, i) => Math.abs(value) > 180 || Math.abs(longitude[i] ?? 0) > 180,
  );
  const swapped = indicesWhere(
    latitude,
    (value, i) => Math.abs(value) > 90 && Math.abs(value) <= 180 && Math.abs(longitude[i] ?? 0) <= 90,
  );
  const code = most(far) ? 'notDegrees' : most(swapped) ? 'latitudeLongitudeSwapped' : null;
  const first = (code === 'notDegrees' ? far : swapped)[0];
  if (code === null || first === undefined) return null;
  const details = { longitude: finiteOrNull(longitude[first]), latitude: finiteOrNull(latitude[first]) };
  return intakeProblem(code, { file: at.file, row: at.rowNumbers[first] ?? null }, details);
}

function outOfRange(
  values: Float64Array,
  bad: readonly number[],
  allowed: number,
  heading: string,
  at: PositionPlace,
): Problem[] {
  const [first] = bad;
  if (first === undefined) return [];
  const place = { file: at.file, row: at.rowNumbers[first] ?? null, column: heading };
  return [
    intakeProblem('latitudeOutOfRange', place, {
      value: finiteOrNull(values[first]),
      count: bad.length,
      allowed,
    }),
  ];
}

function indicesWhere(values: Float64Array, holds: (value: number, index: number) => boolean): number[] {
  const found: number[] = [];
  for (let index = 0; index < values.length; index += 1) if (holds(values[index]!, index)) found.push(index);
  return found;
}

function finiteOrNull(value: number | undefined): number | null {
  return value !== undefined && Number.isFinite(value) ? value : null;
}
