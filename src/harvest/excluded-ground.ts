import { inRadians } from '../geometry/angle.ts';
import { type ExtentAlong, extentAlong } from '../geometry/extent-along.ts';
import { toLocalPolygon } from '../geometry/local-polygon.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { alongM, type OrientedStrip } from '../geometry/oriented-strip.ts';
import { polygonCrossesItself } from '../geometry/self-crossing.ts';
import type { ExclusionArea } from '../trial/exclusion-area.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { StripGround } from './strip-ground.ts';

/** A stretch cut out, along the axis of the strip that the area lies on. */
export interface CutStretch extends ExtentAlong {
  readonly oriented: OrientedStrip;
}

/** By the strip's index in the trial: what is cut from all strips of its block, and what from it alone. */
export interface ExcludedGround {
  readonly fromBlock: readonly (readonly CutStretch[])[];
  readonly fromStrip: readonly (readonly CutStretch[])[];
  /** Did not get what was planned, by the logs of the application. */
  readonly offPlan: readonly (readonly CutStretch[])[];
  readonly problems: readonly Problem[];
}

/** By the strip's index: stretches that did not get what was planned, and whether coverage is asked of the strip at all. */
export interface OffPlan {
  readonly stretches: readonly (readonly CutStretch[])[];
  readonly isAsked: readonly boolean[];
}

/**
 * Which ground do the areas drawn by hand take out? An area cuts the stretch that it covers, whole width, from every
 * strip of each block that it touches (strips without a block count as one), so that no treatment loses what another
 * keeps; an area for a single strip cuts it from that strip.
 */
export function excludedGround(
  trial: TrialDocument,
  grounds: readonly (StripGround | null)[],
  frame: LocalFrame,
  offPlan: OffPlan | null = null,
): ExcludedGround {
  const fromBlock = trial.strips.map((): CutStretch[] => []);
  const fromStrip = trial.strips.map((): CutStretch[] => []);
  const problems: Problem[] = [];
  for (const area of trial.harvest.exclusions ?? []) {
    const touched = stretchesOf(area, trial, grounds, frame);
    if (touched.length === 0) problems.push(problem('warning', 'exclusionOnNoStrip', {}, { area: area.id }));
    for (const { index, stretch } of touched) {
      if (area.strip !== null) {
        fromStrip[index]!.push(stretch);
        continue;
      }
      const block = trial.strips[index]!.block;
      trial.strips.forEach((strip, other) => {
        if (strip.block === block) fromBlock[other]!.push(stretch);
      });
    }
  }
  return { fromBlock, fromStrip, offPlan: offPlan?.stretches ?? trial.strips.map(() => []), problems };
}

/** Areas whose outline crosses itself: nobody can say what they cut, so nothing is harvested until they are gone. */
export function crossingAreas({ harvest }: Pick<TrialDocument, 'harvest'>): Problem[] {
  return (harvest.exclusions ?? [])
    .filter(({ polygon }) => polygonCrossesItself(polygon))
    .map(({ id }) => problem('error', 'exclusionCrossesItself', {}, { area: id }));
}

function stretchesOf(
  area: ExclusionArea,
  trial: TrialDocument,
  grounds: readonly (StripGround | null)[],
  frame: LocalFrame,
): { readonly index: number; readonly stretch: CutStretch }[] {
  const polygon = toLocalPolygon(area.polygon, localProjection(frame));
  return grounds.flatMap((ground, index) => {
    if (ground === null || (area.strip !== null && trial.strips[index]?.id !== area.strip)) return [];
    const extent = extentAlong(polygon, ground.polygon, ground.oriented);
    return extent === null ? [] : [{ index, stretch: { ...extent, oriented: ground.oriented } }];
  });
}

/** A point on the ground; `lengthM` behind it at the heading was cut with it, NaN where that is not known. */
export interface PointCut {
  readonly eastM: number;
  readonly northM: number;
  readonly headingDegrees: number;
  readonly lengthM: number;
}

/** Does the ground that a point stands for reach into one of the stretches? The point itself counts on the edge. */
export function isCutOut(stretches: readonly CutStretch[], point: PointCut): boolean {
  return stretches.some(({ oriented, fromM, toM }) => {
    const along = alongM(oriented, point.eastM, point.northM);
    if (along >= fromM && along <= toM) return true;
    const heading = inRadians(point.headingDegrees);
    const ahead = oriented.alongEast * Math.sin(heading) + oriented.alongNorth * Math.cos(heading);
    const rear = along - ahead * point.lengthM;
    return Math.min(along, rear) < toM && Math.max(along, rear) > fromM;
  });
}
