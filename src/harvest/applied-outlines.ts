import { type LocalPolygon, toLocalPolygon } from '../geometry/local-polygon.ts';
import { localProjection } from '../geometry/local-projection.ts';
import { overlapAreaM2 } from '../geometry/overlap.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import type { Strip, StripPolygon, TrialDocument } from '../trial/trial-document.ts';
import type { GivenLog } from './as-applied.ts';
import { productMeaning } from './product-meaning.ts';
import { type StripGround, stripGrounds } from './strip-ground.ts';

/** An area that a log has for a strip. */
export interface OutlineOfStrip {
  readonly id: Strip['id'];
  readonly polygon: StripPolygon;
}

/** An area is a strip's own when it covers at least this share of it. */
const LEAST_SHARE = 0.5;

/**
 * The outlines that logs of areas have for the strips: those strips that one area of their own treatment, and one
 * alone, covers by half or more, and that covers no other strip as much. Offered to stand for the plan's, never taken.
 */
export function outlinesOfLogs(trial: TrialDocument, logs: readonly GivenLog[]): readonly OutlineOfStrip[] {
  const frame = frameOfStrips(trial.strips);
  if (frame === null) return [];
  const projection = localProjection(frame);
  const grounds = stripGrounds(trial.strips, frame);
  const found = new Map<string, StripPolygon[]>();
  for (const { asked, log } of logs) {
    if (log.ground.kind !== 'areas') continue;
    const meanings = log.products.map((name) => productMeaning(trial, asked, name));
    log.ground.polygons.forEach((polygon, entry) => {
      const meaning = meanings[log.product[entry]!]!;
      if (log.applied[entry] !== 1 || meaning.kind !== 'treatments') return;
      const over = grounds.filter((ground) => covers(toLocalPolygon(polygon, projection), ground));
      const [only] = over;
      if (only === undefined || over.length > 1) return;
      const treatment = trial.treatments.findIndex(({ id }) => id === trial.strips[only.index]?.treatment);
      if (meaning.treatments.includes(treatment))
        found.set(only.id, [...(found.get(only.id) ?? []), polygon]);
    });
  }
  return [...found].flatMap(([id, [polygon, second]]) =>
    polygon === undefined || second !== undefined ? [] : [{ id, polygon }],
  );
}

function covers(area: LocalPolygon, { polygon, areaM2 }: StripGround): boolean {
  return overlapAreaM2(area, polygon) >= LEAST_SHARE * areaM2;
}
