import { signal } from '@preact/signals-core';

type Place = readonly [eastM: number, northM: number];

/** Corners of the area being drawn on the field, east and north in local metres; null: none is being drawn. */
export const drawnCorners = signal<readonly Place[] | null>(null);

/** The area whose corners may be moved on the field. */
export interface EditedArea {
  readonly id: string;
  /** A corner on its way; the trial takes it up where it is let go. */
  readonly drag: { readonly corner: number; readonly place: Place } | null;
  readonly fault: string;
}

/** null: none is being changed. */
export const editedArea = signal<EditedArea | null>(null);
