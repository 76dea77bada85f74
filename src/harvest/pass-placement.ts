import { inDegrees } from '../geometry/angle.ts';
import type { Footprint } from '../geometry/footprint.ts';
import { acrossM, alongM, shareAcross } from '../geometry/oriented-strip.ts';
import { type StripCore, shareWithin, stripCore } from '../geometry/strip-core.ts';
import type { HarvestSettings } from '../trial/trial-document.ts';
import { type CutTrack, cutPasses, spread } from './harvest-passes.ts';
import { medianOf } from './logging-interval.ts';
import type { MeasuredFile } from './measured-file.ts';
import { type StripGround, sideMarginOf } from './strip-ground.ts';
import { turnBetween } from './travel-heading.ts';

/** One pass in one strip. */
export interface PassInStrip {
  /** Index into the trial's strips. */
  readonly strip: number;
  readonly points: number;
  /**
   * Median share of its footprints, across, that lies in the strip drawn in by its side margin; null where only
   * positions are known.
   */
  readonly shareInside: number | null;
  /** Heads the way that the strip's axis runs (north, or east), against it, or across the strip. */
  readonly direction: 'along' | 'against' | 'across';
  readonly isUsed: boolean;
}

/** A harvest pass, numbered from 1 over all files in the order driven. */
export interface HarvestPass {
  readonly number: number;
  readonly file: string;
  readonly points: number;
  readonly lengthM: number;
  readonly inStrips: readonly PassInStrip[];
}

/** A file cut into passes, its points in the strips that their passes were assigned to. */
export interface PassedFile extends MeasuredFile {
  readonly track: CutTrack;
  readonly stretches: readonly Stretch[];
}

/** One pass in one strip, before it is known which passes the strip uses. */
export interface Stretch extends Omit<PassInStrip, 'points' | 'isUsed'> {
  /** Index into the file's passes. */
  readonly pass: number;
  /** Places of its points in the driven file. */
  readonly at: Int32Array;
}

/** Footprints looked at for one pass in one strip, spread evenly over it. */
const MOST_FOOTPRINTS = 200;
/** A pass that heads farther than this from the strip's axis crosses the strip. */
const CROSSING_DEGREES = 30;

type Grounds = readonly (StripGround | null)[];

/**
 * Which strip does each pass belong to? A whole pass is assigned to the strip that holds its median position across
 * (on a shared side, to the strip to the right of it, looking along the axis), as far as the strip reaches along it;
 * a pass that crosses strips counts in each as far as its points lie there. Where only positions are known (no header
 * width, or no distance), every point stays in the strip that holds it.
 */
export function placePasses(file: MeasuredFile, grounds: Grounds, settings: HarvestSettings): PassedFile {
  const { eastM, northM, interval, trackHeadingDegrees } = file;
  const track = cutPasses({ eastM, northM, run: interval.run, headingDegrees: trackHeadingDegrees });
  const isJudged = file.headerM !== null && file.ground.drivenM !== null;
  const met = stripsMet(file, track);
  const stretches = track.spans.flatMap((span, pass) =>
    met[pass]!.flatMap((strip): Stretch[] => {
      const { points: at, direction } = pointsOf(file, span, strip, grounds[strip]!, isJudged);
      if (at.length === 0) return [];
      const shareInside = isJudged ? medianShare(file, at, coreOf(grounds[strip]!, settings, file)) : null;
      return [{ pass, strip, at, direction, shareInside }];
    }),
  );
  return { ...file, strip: isJudged ? stripsOfPoints(file, stretches) : file.strip, track, stretches };
}

function stripsOfPoints(file: MeasuredFile, stretches: readonly Stretch[]): Int32Array {
  const strip = file.strip.slice();
  for (const { at, strip: index, direction } of stretches) {
    if (direction !== 'across') for (let k = 0; k < at.length; k++) strip[at[k]!] = index;
  }
  return strip;
}

function coreOf(ground: StripGround, settings: HarvestSettings, { headerM }: MeasuredFile): StripCore {
  return stripCore(ground.polygon, ground.oriented, sideMarginOf(ground, settings, headerM));
}

/** Of the footprints that have ground; null where none has. */
function medianShare(file: MeasuredFile, at: Int32Array, core: StripCore): number | null {
  const shares = Float64Array.from(spread(at, MOST_FOOTPRINTS), (i) =>
    shareWithin(core, footprintAt(file, i)),
  );
  return medianOf(shares.filter((share) => !Number.isNaN(share)));
}

/** The rectangle that a point stands for. */
export function footprintAt(file: MeasuredFile, i: number): Footprint {
  return {
    eastM: file.eastM[i]!,
    northM: file.northM[i]!,
    headingDegrees: file.trackHeadingDegrees[i]!,
    widthM: file.headerM ?? Number.NaN,
    lengthM: file.ground.drivenM?.[i] ?? Number.NaN,
  };
}

/** The strips that hold a point of each pass, in the order met. */
function stripsMet(file: MeasuredFile, { spans }: CutTrack): readonly (readonly number[])[] {
  return spans.map(({ first, end }) => {
    const met = new Set<number>();
    let last = -1;
    for (let i = first; i < end; i++) {
      const index = file.strip[i]!;
      if (index === last) continue;
      last = index;
      if (index >= 0) met.add(index);
    }
    return [...met];
  });
}

interface PointsInStrip {
  readonly points: Int32Array;
  readonly direction: PassInStrip['direction'];
}

/** The points of a pass that count to a strip; none where its median position across lies in another. */
function pointsOf(
  file: MeasuredFile,
  { first, end }: { readonly first: number; readonly end: number },
  index: number,
  { oriented }: StripGround,
  isAssigned: boolean,
): PointsInStrip {
  const held = new Int32Array(end - first);
  const reached = new Int32Array(end - first);
  const across = new Float64Array(end - first);
  const axisDegrees = inDegrees(Math.atan2(oriented.alongEast, oriented.alongNorth));
  let [inside, count, along, crossing] = [0, 0, 0, 0];
  for (let i = first; i < end; i++) {
    const [east, north] = [file.eastM[i]!, file.northM[i]!];
    if (file.strip[i] === index) {
      held[inside++] = i;
      const turn = turnBetween(file.trackHeadingDegrees[i]!, axisDegrees);
      if (turn > CROSSING_DEGREES && turn < 180 - CROSSING_DEGREES) crossing += 1;
      if (turn <= 90) along += 1;
    }
    const share = shareAcross(oriented, alongM(oriented, east, north), acrossM(oriented, east, north));
    if (Number.isNaN(share)) continue;
    reached[count] = i;
    across[count++] = share;
  }
  const direction = 2 * crossing > inside ? 'across' : 2 * along >= inside ? 'along' : 'against';
  if (direction === 'across' || !isAssigned) return { points: held.slice(0, inside), direction };
  const middle = middleOf(across.subarray(0, count));
  const holdsMiddle = middle >= 0 && middle < 1;
  return { points: reached.slice(0, holdsMiddle ? count : 0), direction };
}

/** The mean of the two middle values where there are two, so that a mirrored field has the mirrored middle. */
function middleOf(values: Float64Array): number {
  const lower = medianOf(values);
  if (lower === null) return Number.NaN;
  if (values.length % 2 === 1) return lower;
  let upper = Number.POSITIVE_INFINITY;
  for (let k = values.length / 2; k < values.length; k++) upper = Math.min(upper, values[k]!);
  return (lower + upper) / 2;
}
