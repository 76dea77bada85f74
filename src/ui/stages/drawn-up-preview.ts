import { toLocalPolygon } from '../../geometry/local-polygon.ts';
import { localProjection } from '../../geometry/local-projection.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import type { TakenLayout } from '../../trial/commands.ts';
import { landUnit, lengthUnit } from '../../trial/display-units.ts';
import { edgeLengthM, type LayoutToDraw } from '../../trial/draw-up-layout.ts';
import { frameOfStrips } from '../../trial/frame-of-strips.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { fixed } from '../../words/number-formats.ts';
import { counted } from '../state/readiness.ts';

const M2_PER_HA = 10_000;

/** How the strips would lie, over what there is to draw on. */
export function drawnUpPreview(
  { strips, treatments, blocks }: TakenLayout,
  ground: FieldDrawing | null,
  current: TrialDocument,
): FieldDrawing | null {
  const frame = ground?.frame ?? frameOfStrips(strips);
  if (frame === null) return null;
  const projection = localProjection(frame);
  const names = new Map([...current.treatments, ...treatments].map(({ id, name }) => [id, name]));
  const blockNames = new Map(blocks.map(({ id, name }) => [id, name]));
  return {
    frame,
    planned: [],
    points: ground?.points ?? null,
    arePointsJudged: ground?.arePointsJudged ?? true,
    passes: null,
    strips: strips.flatMap(({ id, treatment, block, polygon }) =>
      polygon === null
        ? []
        : [
            {
              id,
              treatment: names.get(treatment) ?? treatment,
              block: block === null ? null : (blockNames.get(block) ?? block),
              rings: toLocalPolygon(polygon, projection)
                .flat()
                .map((ring) =>
                  Array.from(
                    { length: ring.length / 2 },
                    (_, i) => [ring[2 * i]!, ring[2 * i + 1]!] as const,
                  ),
                ),
            },
          ],
    ),
  };
}

/** "12 strips in 4 blocks, 144 m across and 300 m long: 4.32 ha." */
export function drawnUpWords(
  asked: LayoutToDraw,
  { strips, blocks }: TakenLayout,
  { unitSystem }: TrialDocument,
): string {
  const [length, land] = [lengthUnit(unitSystem), landUnit(unitSystem)];
  const longM = edgeLengthM(asked);
  const acrossM = strips.length * asked.stripWidthM + (asked.blocks.length - 1) * asked.gapM;
  const inBlocks = blocks.length === 0 ? '' : ` in ${counted(blocks.length, 'block')}`;
  const areaHa = (strips.length * asked.stripWidthM * longM) / M2_PER_HA;
  const metres = (value: number) => `${fixed(value * length.perSi, 1)} ${length.label}`;
  return `${counted(strips.length, 'strip')}${inBlocks}, ${metres(acrossM)} across and ${metres(longM)} long: ${fixed(areaHa * land.perSi, 2)} ${land.label} of strips.`;
}
