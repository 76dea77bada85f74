import * as v from 'valibot';

export const filledText = v.pipe(v.string(), v.regex(/\S/, 'must not be blank'));

const finite = v.pipe(v.number(), v.finite());

/** A ring or rings of [longitude, latitude] in WGS 84 degrees, as in GeoJSON (RFC 7946). */
const position = v.tupleWithRest([finite, finite], finite);
const ring = v.pipe(v.array(position), v.minLength(4));

export const stripPolygonSchema = v.variant('type', [
  v.object({ type: v.literal('Polygon'), coordinates: v.pipe(v.array(ring), v.minLength(1)) }),
  v.object({
    type: v.literal('MultiPolygon'),
    coordinates: v.pipe(v.array(v.pipe(v.array(ring), v.minLength(1))), v.minLength(1)),
  }),
]);
