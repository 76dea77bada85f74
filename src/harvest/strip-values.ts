/**
 * What became of one point of a yield-monitor file. The order is the order of reasons: the first that applies is
 * given. 'unreadable' also takes points for which a lag shift finds no reading; 'speed' also points that stand still.
 */
export const SET_ASIDE_REASONS = [
  'unreadable',
  'outsideStrips',
  'sideMargin',
  'headerUp',
  'turning',
  'cutFromBlock',
  'cutFromStrip',
  'appliedOtherwise',
  'endMargin',
  'speed',
  'width',
  'moisture',
  'yield',
  'outlier',
] as const;

export type SetAsideReason = (typeof SET_ASIDE_REASONS)[number];

/** One value a strip and response, SI: `yield` in kg/ha at standard moisture, `moisture` in percent, others as read. */
export interface StripValue {
  readonly strip: string;
  /** Value by response name; null where the strip has none. */
  readonly values: Readonly<Record<string, number | null>>;
  readonly areaM2: number | null;
  readonly harvestedAreaM2: number | null;
  readonly pointsRead: number | null;
  readonly pointsKept: number | null;
  readonly pointsSetAside: Readonly<Partial<Record<SetAsideReason, number>>>;
  readonly subSamples: number | null;
  readonly cvWithinPercent: number | null;
}

/** How strip values were weighed: by ground (mass over area), or equally where neither speed nor distance is known. */
export type Weighing = 'area' | 'equal';

export interface ResponseOfStrips {
  readonly name: string;
  /** 'yield' is shown in the trial's yield unit; 'moisture' in percent; 'other' in `unit` as it stood in the file. */
  readonly quantity: 'yield' | 'moisture' | 'other';
  readonly unit: string | null;
}

/**
 * Where each point lies and what became of it, for the drawing of the field. Parallel arrays over the points of
 * all files in order; `reason[i]` is an index into SET_ASIDE_REASONS plus 1, 0 for kept; `strip[i]` an index into
 * the trial's strips, -1 for none. Coordinates are local metres of `frame` (see geometry).
 */
export interface PlacedPoints {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly yieldKgPerHa: Float64Array;
  readonly strip: Int32Array;
  readonly reason: Uint8Array;
}
