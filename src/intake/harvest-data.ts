import type { YieldColumnAnswers } from '../trial/trial-document.ts';
import type { Recognition } from './recognition.ts';

/**
 * A yield-monitor file in SI, parallel arrays of one length in file order. NaN marks a value that did not stand in
 * the file or could not be read (this is the one place where NaN lives; `unreadableRows` counts them). Arrays that
 * the file has no column for are null.
 */
export interface HarvestPoints {
  readonly file: string;
  readonly count: number;
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
  /** Yield per area as recorded (moisture basis in `yieldColumn`). Volume yields are turned to mass by the crop. */
  readonly yieldKgPerHa: Float64Array | null;
  readonly massFlowKgPerS: Float64Array | null;
  /** Mass gathered since the point before. */
  readonly massKg: Float64Array | null;
  readonly moisturePercent: Float64Array | null;
  readonly speedMPerS: Float64Array | null;
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
  readonly unreadableRows: number;
  /** Which column the yield was taken from, and what is known about it. */
  readonly yieldColumn: YieldColumnAnswers;
  readonly recognition: Recognition;
}

/** Names that a text column gives to points. */
export interface PointLabels {
  readonly names: readonly string[];
  /** For each point, the place of its name; -1: none. */
  readonly of: Int16Array;
}

/** One row of a hand harvest: a whole strip or one sample in it. */
export interface HandSample {
  readonly row: number;
  readonly strip: string | null;
  readonly treatment: string | null;
  readonly block: string | null;
  /** Mass as weighed, with the area it came from; null where the table gives a yield per area instead. */
  readonly weightKg: number | null;
  readonly areaM2: number | null;
  readonly yieldKgPerHa: number | null;
  readonly moisturePercent: number | null;
  /** Further responses by heading, as read. */
  readonly others: Readonly<Record<string, number | null>>;
}

export interface HandHarvest {
  readonly file: string;
  readonly samples: readonly HandSample[];
  readonly otherResponses: readonly { readonly name: string; readonly unit: string | null }[];
  readonly yieldColumn: YieldColumnAnswers;
  readonly recognition: Recognition;
}

/** A plain table with one row a plot (or sub-sample), categories as text, each response as origin and deviations. */
export interface PlotTable {
  readonly file: string;
  readonly treatmentHeading: string;
  readonly blockHeading: string | null;
  /** Row in the file of each plot. */
  readonly row: readonly number[];
  readonly treatment: readonly string[];
  readonly block: readonly (string | null)[];
  readonly responses: readonly PlotResponse[];
  readonly recognition: Recognition;
}

export interface PlotResponse {
  readonly name: string;
  readonly unit: string | null;
  /** The decimal text taken off every value before it became a double, and its value. */
  readonly originText: string;
  readonly origin: number;
  /** value - origin, exact decimal difference rounded once; null: lost plot (blank, NA or .). */
  readonly deviations: readonly (number | null)[];
}
