import type { RateUnit, StripPolygon } from '../trial/trial-document.ts';

/**
 * What this room works on: a log of what was put out, in SI, one entry a row or an area. Structurally what intake hands
 * over. NaN: not in the file, or not readable.
 */
export interface ApplicationInput {
  readonly file: string;
  readonly count: number;
  readonly ground: LoggedPointsInput | LoggedAreasInput;
  /** In `rateUnit`; null: the log has no rates. */
  readonly rate: Float64Array | null;
  readonly rateUnit: RateUnit | null;
  /** Names of products as they stand in the file; one of them may be blank. */
  readonly products: readonly string[];
  /** Index into `products` of each entry. */
  readonly product: Int32Array;
  /** 1: something was put out, 0: nothing. */
  readonly applied: Uint8Array;
}

export interface LoggedPointsInput {
  readonly kind: 'points';
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
  readonly widthM: Float64Array;
  /** Seconds since the first point; null: no time in the file. */
  readonly timeS: Float64Array | null;
  /** By entry: parts of the boom that were on; null: the whole width. Absent: the log knows of no parts. */
  readonly parts?: readonly (readonly SwathPart[] | null)[];
  /** Where the boom lies, seen from the logged position: against the direction of travel, and to the right of it. */
  readonly offset?: { readonly behindM: number; readonly asideM: number } | null;
}

/** A part of a boom; its middle lies `asideM` to the right of the track in the direction of travel. */
export interface SwathPart {
  readonly widthM: number;
  readonly asideM: number;
}

export interface LoggedAreasInput {
  readonly kind: 'areas';
  readonly polygons: readonly StripPolygon[];
}
