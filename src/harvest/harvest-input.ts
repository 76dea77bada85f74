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
  /** Seconds since 1970 where `timeS` is 0, where the times carry a date; null: they do not. */
  readonly startS?: number | null;
  /** As columns of the file name them, point by point. */
  readonly machine?: PointLabels | null;
  readonly operator?: PointLabels | null;
  /** The date, where it stands in a column of its own. */
  readonly day?: PointLabels | null;
  /** 1: cutting, 0: header up or not harvesting, 255: not recorded. */
  readonly headerDown: Uint8Array | null;
  readonly yieldColumn: YieldColumnAnswers;
}

/** Names that a text column gives to points. */
export interface PointLabels {
  readonly names: readonly string[];
  /** For each point, the place of its name; -1: none. */
  readonly of: Int16Array;
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
