import { nothing, svg, type TemplateResult } from 'lit';
import { toLocalPolygon } from '../../geometry/local-polygon.ts';
import { type LocalFrame, localProjection } from '../../geometry/local-projection.ts';
import type { ExclusionArea } from '../../trial/exclusion-area.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { editedArea } from '../state/area-drawing.ts';
import { shownCorners } from './area-corners.ts';
import { type FieldView, toPx } from './field-view.ts';

type Corners = readonly (readonly [number, number])[];

/** Areas left out, dashed and with their number, and the one being drawn with a dot at each corner. */
export function areaOutlines(
  current: TrialDocument,
  frame: LocalFrame,
  view: FieldView,
  drawn: Corners | null,
): TemplateResult {
  const projection = localProjection(frame);
  return svg`
    ${(current.harvest.exclusions ?? []).map(({ id, polygon }) =>
      toLocalPolygon(polygon, projection).map((part) => {
        const ring = part[0] ?? new Float64Array(0);
        const corners = Array.from({ length: ring.length / 2 }, (_, i) =>
          toPx(view, ring[2 * i]!, ring[2 * i + 1]!),
        );
        const [x, y] = corners[0] ?? [0, 0];
        return svg`<path class="area-left-out" d=${`${line(corners)}Z`}></path><text class="area-number" x=${x} y=${y}>${id}</text>`;
      }),
    )}
    ${(current.harvest.exclusions ?? []).map((area) =>
      area.id === editedArea.value?.id ? cornerHandles(area, frame, view) : nothing,
    )}
    ${drawn === null ? nothing : drawing(drawn.map(([east, north]) => toPx(view, east, north)))}
  `;
}

/** The outline as it would be, with a handle and a number at each corner. */
function cornerHandles(
  area: ExclusionArea,
  frame: LocalFrame,
  view: FieldView,
): TemplateResult | typeof nothing {
  const corners = shownCorners(area, frame)?.map(([east, north]) => toPx(view, east, north));
  if (corners === undefined) return nothing;
  return svg`
    <path class="area-edited" d=${`${line(corners)}Z`}></path>
    ${corners.map(
      ([x, y], index) =>
        svg`<circle class="area-corner" cx=${x} cy=${y} r="8"></circle><text class="area-corner-number" x=${x} y=${y}>${index + 1}</text>`,
    )}
  `;
}

function drawing(corners: Corners): TemplateResult {
  return svg`
    ${corners.length < 2 ? nothing : svg`<path class="area-left-out" d=${`${line(corners)}${corners.length > 2 ? 'Z' : ''}`}></path>`}
    ${corners.map(([x, y]) => svg`<circle class="area-corner" cx=${x} cy=${y} r="5"></circle>`)}
  `;
}

function line(corners: Corners): string {
  return `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}`;
}
