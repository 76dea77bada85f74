import type { HandSampleInput } from '../../src/harvest/harvest-input.ts';

/** Rows of a table of weights as intake hands them over; what a row does not say is not known. */
export function handSamples(rows: readonly Partial<HandSampleInput>[]): HandSampleInput[] {
  return rows.map((given, i) => ({
    row: i + 2,
    strip: null,
    treatment: null,
    block: null,
    weightKg: null,
    areaM2: null,
    yieldKgPerHa: null,
    moisturePercent: null,
    others: {},
    ...given,
  }));
}
