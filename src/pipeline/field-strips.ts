import { toLocalPolygon } from '../geometry/local-polygon.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import type { Strip, TrialDocument } from '../trial/trial-document.ts';

/** One strip as it lies: treatment and block by the names that people read, rings as [east, north] in metres. */
export interface FieldStrip {
  readonly id: string;
  readonly treatment: string;
  readonly block: string | null;
  readonly rings: readonly (readonly (readonly [eastM: number, northM: number])[])[];
}

/** The strips that have a polygon, in local metres of the frame. Empty where none has. */
export function fieldStrips(trial: TrialDocument, known: LocalFrame | null): readonly FieldStrip[] {
  const frame = known ?? frameOfStrips(trial.strips);
  if (frame === null) return [];
  const projection = localProjection(frame);
  return stripsWithRings(trial, ({ polygon }) =>
    polygon === null ? null : toLocalPolygon(polygon, projection).flat().map(corners),
  );
}

/** The strips for which rings are known. */
export function stripsWithRings(
  trial: TrialDocument,
  ringsOf: (strip: Strip) => FieldStrip['rings'] | null,
): readonly FieldStrip[] {
  const treatments = new Map(trial.treatments.map(({ id, name }) => [id, name]));
  const blocks = new Map(trial.blocks.map(({ id, name }) => [id, name]));
  return trial.strips.flatMap((strip) => {
    const rings = ringsOf(strip);
    if (rings === null) return [];
    const { id, treatment, block } = strip;
    return [
      {
        id,
        treatment: treatments.get(treatment) ?? treatment,
        block: block === null ? null : (blocks.get(block) ?? block),
        rings,
      },
    ];
  });
}

function corners(ring: Float64Array): (readonly [number, number])[] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!] as const);
}
