import * as v from 'valibot';

/** Farther away it is another field, or another datum, and no move of a layout. */
const FARTHEST_M = 1000;

const finite = v.pipe(v.number(), v.finite());
const shift = v.pipe(finite, v.minValue(-FARTHEST_M), v.maxValue(FARTHEST_M));
const turn = v.pipe(finite, v.minValue(-180), v.maxValue(180));

/**
 * How the strips lie against their polygons, which stay as planned: mirrored across the strips' common axis, turned
 * clockwise about the middle of all strips, then shifted. `renumbered`: the treatments run from the other edge, so
 * that the strips exchange their ground.
 */
export const layoutMoveSchema = v.object({
  eastM: shift,
  northM: shift,
  turnDegrees: turn,
  mirrored: v.boolean(),
  renumbered: v.boolean(),
  how: v.picklist(['byHand', 'proposed']),
  /**
   * Middle and axis as they were before strips were removed, so that those left stay where they are; the polygons
   * have then exchanged their ground already where `renumbered`. Absent: those of the strips.
   */
  pinned: v.optional(v.object({ longitude: finite, latitude: finite, axisDegrees: finite })),
});

export type LayoutMove = v.InferOutput<typeof layoutMoveSchema>;
