import type { ReportModel, ReportStrip } from '../findings/report-model.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import type { StripPolygon, TrialDocument } from '../trial/trial-document.ts';

type Position = readonly number[];
type Ring = readonly Position[];

/**
 * Strips with their values as GeoJSON (RFC 7946: WGS 84, outer rings counterclockwise, holes clockwise). Strips
 * without a polygon have a null geometry, as the standard provides; units stand in the names of the properties. Strips
 * that are known by their passes alone have the outlines of these, one a pass, and say so.
 */
export function stripsGeojson(
  report: ReportModel,
  trial: Pick<TrialDocument, 'strips'>,
  field: GroundOfPasses | null = null,
): string {
  const polygons = new Map(trial.strips.map((strip) => [strip.id, strip.polygon]));
  for (const [strip, polygon] of polygonsOfPasses(field)) polygons.set(strip, polygon);
  const features = report.strips.map((strip) => ({
    type: 'Feature',
    id: strip.strip,
    geometry: rightHanded(polygons.get(strip.strip) ?? null),
    properties: {
      ...propertiesOf(strip),
      ...(isByPass(field) ? { outline: 'ground of its harvest passes' } : {}),
    },
  }));
  return `${JSON.stringify({ type: 'FeatureCollection', features }, null, 2)}\n`;
}

/** The field as it was drawn. */
export interface GroundOfPasses {
  readonly frame?: LocalFrame | null;
  readonly passes?: object | null;
  readonly strips: readonly {
    readonly id: string;
    readonly rings: readonly (readonly (readonly [eastM: number, northM: number])[])[];
  }[];
}

function isByPass(field: GroundOfPasses | null): field is GroundOfPasses & { readonly frame: LocalFrame } {
  return field?.passes != null && field.frame != null;
}

function polygonsOfPasses(field: GroundOfPasses | null): [string, StripPolygon][] {
  if (!isByPass(field)) return [];
  const { toGeographic } = localProjection(field.frame);
  return field.strips.map(({ id, rings }) => {
    const parts = rings.map((ring) => [
      [...ring, ...ring.slice(0, 1)].map((at): Corner => [...toGeographic(...at)]),
    ]);
    return [id, { type: 'MultiPolygon', coordinates: parts }];
  });
}

type Corner = [longitude: number, latitude: number];

function propertiesOf(strip: ReportStrip): Record<string, string | number | boolean | null> {
  const values = strip.values.map(({ response, value, unit }) => [
    unit === null ? response : `${response} (${unit})`,
    value,
  ]);
  return {
    strip: strip.strip,
    block: strip.block,
    treatment: strip.treatment,
    place: strip.place,
    areaM2: strip.areaM2,
    harvestedAreaM2: strip.harvestedAreaM2,
    ...Object.fromEntries(values),
    pointsRead: strip.pointsRead,
    pointsKept: strip.pointsKept,
    used: strip.used,
    whyNotUsed: strip.whyNotUsed,
  };
}

function rightHanded(polygon: StripPolygon | null): object | null {
  if (polygon === null) return null;
  if (polygon.type === 'Polygon') return { type: 'Polygon', coordinates: turned(polygon.coordinates) };
  return { type: 'MultiPolygon', coordinates: polygon.coordinates.map(turned) };
}

function turned(rings: readonly Ring[]): readonly Ring[] {
  return rings.map((ring, index) => {
    const isOuter = index === 0;
    return signedArea(ring) > 0 === isOuter ? ring : ring.toReversed();
  });
}

/** Twice the area in square degrees about the first corner, positive where the ring turns counterclockwise. */
function signedArea(ring: Ring): number {
  const [x0 = 0, y0 = 0] = ring[0] ?? [];
  let sum = 0;
  for (let i = 0; i + 1 < ring.length; i += 1) {
    const [x1 = 0, y1 = 0] = ring[i] ?? [];
    const [x2 = 0, y2 = 0] = ring[i + 1] ?? [];
    sum += (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  }
  return sum;
}
