import { convexCorners, footprintCorners, piecesOverPolygons } from '../geometry/footprint.ts';
import { localPolygon } from '../geometry/local-polygon.ts';
import { type Corner, convexAreaM2, overlapAreaM2 } from '../geometry/overlap.ts';
import { type Problem, problem } from '../trial/problem.ts';
import { spread } from './harvest-passes.ts';
import { footprintAt, type HarvestPass, type PassedFile, type Stretch } from './pass-placement.ts';
import type { StripGround } from './strip-ground.ts';

/** A file of which it is known what passes its strips use. */
export interface JudgedFile extends PassedFile {
  /** 1: the pass of this point straddles the strip, or belongs to another; null where only positions are known. */
  readonly straddles: Uint8Array | null;
}

export interface ChosenPasses {
  readonly files: readonly JudgedFile[];
  readonly passes: readonly HarvestPass[];
  readonly problems: readonly Problem[];
}

/** Least median share of a pass's footprints inside the strip's core. */
const LEAST_SHARE = 0.9;
/** A pass must have this share of the points of the strip's fullest pass to be taken where none fits. */
const WHOLE_PASS_SHARE = 0.5;
/** With less than this share of them what fits is a stub (common practice: a fifth of the longest is no pass). */
const LEAST_OF_PASS = 0.2;
/** Footprints of a pass from which its overlap is stated, spread evenly over it. */
const STATED_FOOTPRINTS = 20;

/**
 * Which passes does each strip use? All whose footprints lie in its core by a median share of at least 0.90. Where
 * there is none, or a stub of one alone, the one that lies in it most, which is said with the ground it takes from elsewhere.
 */
export function choosePasses(
  files: readonly PassedFile[],
  grounds: readonly (StripGround | null)[],
): ChosenPasses {
  const forced: { readonly file: PassedFile; readonly stretch: Stretch }[] = [];
  const used = new Set<Stretch>();
  grounds.forEach((_, strip) => {
    const own = files.flatMap((file) =>
      file.stretches.filter((stretch) => stretch.strip === strip).map((stretch) => ({ file, stretch })),
    );
    const fitting = own.filter(({ stretch }) => (stretch.shareInside ?? 1) >= LEAST_SHARE);
    for (const { stretch } of fitting) used.add(stretch);
    const best = isStub(fitting, own) ? bestOf(own) : null;
    if (best === null) return;
    used.add(best.stretch);
    forced.push(best);
  });
  return {
    files: files.map((file) => ({ ...file, straddles: straddlesIn(file, used) })),
    passes: drivenPasses(files, used),
    problems: forced.length === 0 ? [] : [straddlingProblem(forced, grounds)],
  };
}

type Owned = { readonly file: PassedFile; readonly stretch: Stretch };

/** Nothing, or no more than some turn or second go leaves: then what fits does not stand for the strip. */
function isStub(fitting: readonly Owned[], own: readonly Owned[]): boolean {
  const points = fitting.reduce((sum, { stretch }) => sum + stretch.at.length, 0);
  return points < LEAST_OF_PASS * Math.max(1, ...own.map(({ stretch }) => stretch.at.length));
}

function bestOf(own: readonly Owned[]): Owned | null {
  const along = own.filter(({ stretch }) => stretch.direction !== 'across' && stretch.shareInside !== null);
  const most = Math.max(0, ...along.map(({ stretch }) => stretch.at.length));
  const whole = along.filter(({ stretch }) => stretch.at.length >= WHOLE_PASS_SHARE * most);
  return whole.reduce<Owned | null>(
    (best, next) =>
      best === null || (next.stretch.shareInside ?? 0) > (best.stretch.shareInside ?? 0) ? next : best,
    null,
  );
}

function straddlesIn(file: PassedFile, used: ReadonlySet<Stretch>): Uint8Array | null {
  if (file.headerM === null || file.ground.drivenM === null) return null;
  const straddles = new Uint8Array(file.strip.length).fill(1);
  for (const stretch of file.stretches) {
    if (!used.has(stretch)) continue;
    for (let k = 0; k < stretch.at.length; k++) straddles[stretch.at[k]!] = 0;
  }
  return straddles;
}

/** All passes in the order driven, with the strips that they lie in. */
export function drivenPasses(files: readonly PassedFile[], used: ReadonlySet<Stretch>): HarvestPass[] {
  let number = 0;
  return files.flatMap(({ input, track, stretches }) => {
    const inStrips = track.spans.map((): HarvestPass['inStrips'][number][] => []);
    for (const stretch of stretches) {
      const { strip, shareInside, direction, at } = stretch;
      inStrips[stretch.pass]!.push({
        strip,
        points: at.length,
        shareInside,
        direction,
        isUsed: used.has(stretch),
      });
    }
    return track.spans.map(({ first, end, lengthM }, pass) => {
      number += 1;
      return { number, file: input.file, points: end - first, lengthM, inStrips: inStrips[pass]! };
    });
  });
}

/** Names the strips, the least share inside, and how much of the footprints' ground lies in neighbouring strips. */
function straddlingProblem(forced: readonly Owned[], grounds: readonly (StripGround | null)[]): Problem {
  const inOthers = areaInOthers(grounds);
  let neighbourM2 = 0;
  let allM2 = 0;
  for (const { file, stretch } of forced) {
    for (const i of spread(stretch.at, STATED_FOOTPRINTS)) {
      const corners = footprintCorners(footprintAt(file, i));
      const areaM2 = convexAreaM2(corners);
      if (!(areaM2 > 0)) continue;
      allM2 += areaM2;
      neighbourM2 += inOthers(corners, stretch.strip);
    }
  }
  const details = {
    strips: forced.flatMap(({ stretch }) => grounds[stretch.strip]?.id ?? []),
    count: forced.length,
    insidePercent: 100 * Math.min(...forced.map(({ stretch }) => stretch.shareInside ?? 0)),
    neighbourPercent: allM2 > 0 ? (100 * neighbourM2) / allM2 : 0,
  };
  return problem('warning', 'noPassFits', {}, details);
}

/** m² of a footprint that lie in strips other than its own. */
function areaInOthers(
  grounds: readonly (StripGround | null)[],
): (corners: readonly Corner[], own: number) => number {
  const drawn = grounds.flatMap((ground, index) =>
    ground === null ? [] : [{ index, polygon: ground.polygon, convex: convexCorners(ground.polygon) }],
  );
  return (corners, own) => {
    const others = drawn.filter(({ index }) => index !== own);
    const { insideM2 } = piecesOverPolygons(
      corners,
      others.flatMap(({ convex }) => (convex === null ? [] : [convex])),
    );
    const bent = others.filter(({ convex }) => convex === null);
    const bentM2 = bent.map(({ polygon }) => overlapAreaM2(localPolygon(corners), polygon));
    return [...insideM2, ...bentM2].reduce((sum, area) => sum + area, 0);
  };
}
