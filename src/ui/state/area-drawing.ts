import { signal } from '@preact/signals-core';

/** Corners of the area being drawn on the field, east and north in local metres; null: none is being drawn. */
export const drawnCorners = signal<readonly (readonly [eastM: number, northM: number])[] | null>(null);
