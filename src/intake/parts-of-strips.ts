import type { Problem } from '../trial/problem.ts';
import type { StripPolygon } from '../trial/trial-document.ts';
import type { LayoutFeature } from './geojson-polygons.ts';
import { type LayoutProperties, type LayoutRole, propertyText } from './layout-properties.ts';
import { intakeProblem } from './problem-codes.ts';
import type { ListedStrip } from './strip-list.ts';

/** A strip on its way from a file: drawn, or listed. */
export type LaidStrip = LayoutFeature | ListedStrip;

/**
 * Features that carry the same strip name, treatment and block are parts of one strip, and become one of several
 * polygons, which is said. Where only the name is the same they stay apart, to be told as a name that stands twice.
 */
export function joinedParts(
  features: readonly LaidStrip[],
  roles: LayoutProperties['roles'],
  file: string,
  problems: Problem[],
): readonly LaidStrip[] {
  const text = (feature: LaidStrip, role: LayoutRole) => propertyText(feature, roles[role]?.property ?? null);
  const groups = new Map<string, LaidStrip[]>();
  for (const feature of features) {
    const strip = text(feature, 'strip');
    const isDrawn = feature.polygon !== null && strip !== null;
    const key = isDrawn
      ? JSON.stringify([strip, text(feature, 'treatment'), text(feature, 'block')])
      : `alone ${feature.number}`;
    const parts = groups.get(key) ?? [];
    parts.push(feature);
    groups.set(key, parts);
  }
  const joined = [...groups.values()].filter((parts) => parts.length > 1);
  if (joined.length === 0) return features;
  const strips = joined.flatMap(([first]) => (first === undefined ? [] : (text(first, 'strip') ?? [])));
  problems.push(intakeProblem('stripPartsJoined', { file }, { strips, count: joined.length }));
  return [...groups.values()].flatMap(([first, ...others]) =>
    first === undefined ? [] : others.length === 0 ? [first] : [asOne(first, others)],
  );
}

function asOne(first: LaidStrip, others: readonly LaidStrip[]): LaidStrip {
  const coordinates = [first, ...others].flatMap(({ polygon }) => partsOf(polygon));
  return { ...first, polygon: { type: 'MultiPolygon', coordinates } } as LaidStrip;
}

function partsOf(polygon: StripPolygon | null) {
  if (polygon === null) return [];
  return polygon.type === 'Polygon' ? [polygon.coordinates] : polygon.coordinates;
}
