/** The largest absolute value; 0 for none. Takes any number of values (spreading them into Math.max does not). */
export function largestMagnitude(values: readonly number[]): number {
  return values.reduce((largest, value) => Math.max(largest, Math.abs(value)), 0);
}
