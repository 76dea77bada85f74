import {
  type LocalPolygon,
  polygonAreaM2,
  polygonCentroid,
  toLocalPolygon,
} from '../geometry/local-polygon.ts';
import {
  type LocalFrame,
  type LocalPosition,
  type LocalProjection,
  localProjection,
} from '../geometry/local-projection.ts';
import { type OrientedStrip, orientedStrip } from '../geometry/oriented-strip.ts';
import type { HarvestSettings, Strip } from '../trial/trial-document.ts';

/** A strip as it lies on the ground, in local metres. */
export interface StripGround {
  /** Index into the trial's strips. */
  readonly index: number;
  readonly id: string;
  readonly polygon: LocalPolygon;
  readonly oriented: OrientedStrip;
  readonly areaM2: number;
  readonly centroid: LocalPosition;
}

export function stripGrounds(strips: readonly Strip[], frame: LocalFrame): readonly StripGround[] {
  const projection = localProjection(frame);
  return strips.flatMap((strip, index) => {
    const ground = groundOf(strip, index, projection);
    return ground === null ? [] : [ground];
  });
}

/** The strip is drawn in by the smaller of the margin and half of what it is wider than the header. */
export function sideMarginOf(strip: StripGround, settings: HarvestSettings, headerM: number | null): number {
  if (headerM === null) return settings.sideMarginM;
  return Math.max(0, Math.min(settings.sideMarginM, (strip.oriented.widthM - headerM) / 2));
}

function groundOf(strip: Strip, index: number, projection: LocalProjection): StripGround | null {
  if (strip.polygon === null) return null;
  const polygon = toLocalPolygon(strip.polygon, projection);
  return {
    index,
    id: strip.id,
    polygon,
    oriented: orientedStrip(polygon),
    areaM2: polygonAreaM2(polygon),
    centroid: polygonCentroid(polygon),
  };
}
