import { toLocalPolygon } from '../../geometry/local-polygon.ts';
import { type LocalFrame, type LocalPosition, localProjection } from '../../geometry/local-projection.ts';
import { ringCrossesItself } from '../../geometry/self-crossing.ts';
import type { ExclusionArea } from '../../trial/exclusion-area.ts';
import type { StripPolygon } from '../../trial/trial-document.ts';
import { editedArea } from '../state/area-drawing.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { type FieldView, toPx } from './field-view.ts';

/** How near to a corner a pointer takes hold of it; a finger is some 10 mm wide. */
const REACH_PX = 18;

export const OUTLINE_CROSSES =
  'The outline would cross itself, so that what lies inside it could not be told; the corner stays where it was.';

/** Corners of an area, east and north in local metres; null where it has several parts or a hole. */
export function cornersOf(
  { polygon }: Pick<ExclusionArea, 'polygon'>,
  frame: LocalFrame,
): LocalPosition[] | null {
  const [part, second] = toLocalPolygon(polygon, localProjection(frame));
  const [ring, hole] = part ?? [];
  if (ring === undefined || hole !== undefined || second !== undefined) return null;
  const corners = Array.from(
    { length: ring.length / 2 },
    (_, i): LocalPosition => [ring[2 * i]!, ring[2 * i + 1]!],
  );
  const [first, last] = [corners[0], corners.at(-1)];
  const isClosed = corners.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1];
  return isClosed ? corners.slice(0, -1) : corners;
}

export function polygonOf(corners: readonly LocalPosition[], frame: LocalFrame): StripPolygon {
  const { toGeographic } = localProjection(frame);
  const ring = corners.map(([east, north]): [number, number] => {
    const [longitude, latitude] = toGeographic(east, north);
    return [longitude, latitude];
  });
  return { type: 'Polygon', coordinates: [[...ring, ring[0]!]] };
}

/** The corners as they are shown: with one on its way where a pointer holds it. */
export function shownCorners(area: ExclusionArea, frame: LocalFrame): LocalPosition[] | null {
  const edited = editedArea.value;
  const corners = cornersOf(area, frame);
  if (corners === null || edited === null || edited.id !== area.id || edited.drag === null) return corners;
  return corners.with(edited.drag.corner, edited.drag.place);
}

/** Takes hold of the corner that lies nearest within reach; says whether there is one. */
export function gripCorner(frame: LocalFrame | null, view: FieldView | null, place: LocalPosition): boolean {
  const edited = editedArea.peek();
  const area = edited === null ? undefined : areaNamed(edited.id);
  const corners = area === undefined || frame === null ? null : cornersOf(area, frame);
  if (edited === null || corners === null || view === null) return false;
  const away = corners.map(([east, north]) => {
    const [x, y] = toPx(view, east, north);
    return Math.hypot(x - place[0], y - place[1]);
  });
  const corner = away.indexOf(Math.min(...away));
  if (!(away[corner]! <= REACH_PX)) return false;
  editedArea.value = { ...edited, drag: { corner, place: corners[corner]! }, fault: '' };
  return true;
}

/** Moves the corner that is held; says whether one is. */
export function dragCorner(ground: LocalPosition): boolean {
  const edited = editedArea.peek();
  if (edited === null || edited.drag === null) return false;
  editedArea.value = { ...edited, drag: { ...edited.drag, place: ground } };
  return true;
}

/** Lets the corner go where it is; says whether one was held. */
export function dropCorner(frame: LocalFrame | null): boolean {
  const edited = editedArea.peek();
  if (edited === null || edited.drag === null) return false;
  const { corner, place } = edited.drag;
  editedArea.value = { ...edited, drag: null };
  if (frame !== null) moveCorner(edited.id, corner, place, frame);
  return true;
}

/** One step to undo; false where the outline would cross itself. */
export function moveCorner(id: string, corner: number, place: LocalPosition, frame: LocalFrame): boolean {
  const area = areaNamed(id);
  const corners = area === undefined ? null : cornersOf(area, frame);
  const before = corners?.[corner];
  if (corners === null || before === undefined) return false;
  if (before[0] === place[0] && before[1] === place[1]) return true;
  const moved = corners.with(corner, place);
  const isCrossed = ringCrossesItself(moved);
  editedArea.value = { id, drag: null, fault: isCrossed ? OUTLINE_CROSSES : '' };
  if (isCrossed || !dispatch({ name: 'changeExclusion', id, changes: { polygon: polygonOf(moved, frame) } }))
    return false;
  announcement.value = `Corner ${corner + 1} of area ${id} was moved.`;
  return true;
}

function areaNamed(id: string): ExclusionArea | undefined {
  return trial.peek()?.harvest.exclusions?.find((area) => area.id === id);
}
