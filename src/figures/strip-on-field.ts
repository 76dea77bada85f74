/** A strip in local metres: the outer ring of [east, north] first, holes after it, for each part of the strip. */
export interface StripOnField {
  readonly id: string;
  readonly treatment: string;
  readonly block: string | null;
  readonly rings: readonly (readonly (readonly [number, number])[])[];
}
