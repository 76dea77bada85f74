import type { RateUnit, StripPolygon } from '../trial/trial-document.ts';
import type { BoomOffset } from './boom-offset.ts';
import type { Recognition } from './recognition.ts';

/**
 * What a machine put out where, in SI, one entry a row (points) or a feature (areas), in file order. NaN marks a value
 * that did not stand in the file or could not be read; `unreadableRows` counts the rows with one.
 */
export interface ApplicationLog {
  readonly file: string;
  readonly count: number;
  /** Row in the file, or number of the feature, counted from 1. */
  readonly row: Int32Array;
  readonly ground: LoggedGround;
  /** In `rateUnit`; null: the log has no rates. */
  readonly rate: Float64Array | null;
  readonly rateUnit: RateUnit | null;
  /** Names of products as they stand in the file, trimmed; one of them may be blank. */
  readonly products: readonly string[];
  /** Index into `products` of each entry. */
  readonly product: Int32Array;
  /** 1: something was put out, 0: nothing. */
  readonly applied: Uint8Array;
  readonly unreadableRows: number;
  readonly recognition: Recognition;
}

/** Points along a track, each with the swath that it stands for, or areas as they were drawn. */
export type LoggedGround = LoggedPoints | LoggedAreas;

export interface LoggedPoints {
  readonly kind: 'points';
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
  /** Width of the swath. */
  readonly widthM: Float64Array;
  /** Seconds since the first point; null: no time in the file. */
  readonly timeS: Float64Array | null;
  /** By entry: parts of the boom that were on; null: the whole width. Absent where the file knows of no parts. */
  readonly parts?: readonly (readonly SwathPart[] | null)[];
  /** Where the boom lies, seen from the logged position, by the machine's description; null or absent: it does not say. */
  readonly offset?: BoomOffset | null;
}

/** A part of a boom. */
export interface SwathPart {
  readonly widthM: number;
  /** Its middle, to the right of the track in the direction of travel. */
  readonly asideM: number;
}

export interface LoggedAreas {
  readonly kind: 'areas';
  readonly polygons: readonly StripPolygon[];
}
