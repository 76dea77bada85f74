import type { YieldColumnAnswers } from '../trial/trial-document.ts';

/**
 * What harvest works on: a yield-monitor file in SI, parallel arrays of one length in file order. Structurally what
 * intake hands over. NaN: not in the file, or not readable; null: the file has no such column.
 */
export interface HarvestPointsInput {
  readonly file: string;
  readonly count: number;
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
  readonly yieldKgPerHa: Float64Array | null;
  readonly massFlowKgPerS: Float64Array | null;
  /** Mass gathered since the point before. */
  readonly massKg: Float64Array | null;
  readonly moisturePercent: Float64Array | null;
  readonly speedMPerS: Float64Array | null;
  /** Driven since the point before. */
  readonly distanceM: Float64Array | null;
  readonly widthM: Float64Array | null;
  readonly headingDegrees: Float64Array | null;
  /** Seconds since the first point. */
  readonly timeS: Float64Array | null;
  /** 1: cutting, 0: header up or not harvesting, 255: not recorded. */
  readonly headerDown: Uint8Array | null;
  readonly yieldColumn: YieldColumnAnswers;
}

/** One row of a hand harvest: a whole strip or one sample in it. */
export interface HandSampleInput {
  readonly row: number;
  readonly strip: string | null;
  readonly treatment: string | null;
  readonly block: string | null;
  readonly weightKg: number | null;
  readonly areaM2: number | null;
  readonly yieldKgPerHa: number | null;
  readonly moisturePercent: number | null;
  readonly others: Readonly<Record<string, number | null>>;
}

export interface HandHarvestInput {
  readonly file: string;
  readonly samples: readonly HandSampleInput[];
  readonly otherResponses: readonly { readonly name: string; readonly unit: string | null }[];
  readonly yieldColumn: YieldColumnAnswers;
}
