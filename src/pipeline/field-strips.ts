import { toLocalPolygon } from '../geometry/local-polygon.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

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
  const treatments = new Map(trial.treatments.map(({ id, name }) => [id, name]));
  const blocks = new Map(trial.blocks.map(({ id, name }) => [id, name]));
  return trial.strips.flatMap(({ id, treatment, block, polygon }) =>
    polygon === null
      ? []
      : [
          {
            id,
            treatment: treatments.get(treatment) ?? treatment,
            block: block === null ? null : (blocks.get(block) ?? block),
            rings: toLocalPolygon(polygon, projection).flat().map(corners),
          },
        ],
  );
}

function corners(ring: Float64Array): (readonly [number, number])[] {
  return Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!] as const);
}
