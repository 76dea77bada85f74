import { shareWithin, stripCore } from '../geometry/strip-core.ts';
import type { HarvestSettings } from '../trial/trial-document.ts';
import type { HarvestGround } from './harvest-ground.ts';
import type { JudgedFile } from './pass-choice.ts';
import { footprintAt } from './pass-placement.ts';
import { sideMarginOf } from './strip-ground.ts';

/** All that is known of one point beside its place, its yield and what became of it. null: not known. */
export interface PointFacts {
  readonly file: string;
  /** From 1, in the order of the file. */
  readonly pointOfFile: number;
  /** `counted`: in the order driven through all files, or across the field, as strips without outlines name them. */
  readonly pass: { readonly number: number; readonly counted: 'asDriven' | 'acrossField' } | null;
  /** Of the smoothed track, clockwise from north. */
  readonly headingDegrees: number | null;
  /** Seconds since 1970 by the file's own clock. */
  readonly clockS: number | null;
  /** Seconds since the first point of the file. */
  readonly timeS: number | null;
  readonly speedMPerS: number | null;
  /** As used: shifted where a shift is set. */
  readonly moisturePercent: number | null;
  readonly flowKgPerS: number | null;
  /** As recorded at the point, else the header's. */
  readonly widthM: number | null;
  /** Share of its footprint, across, in the strip drawn in by its side margin; median of its whole pass in the strip. */
  readonly shareInside: number | null;
  readonly passShareInside: number | null;
}

/** What the points were judged with. */
export interface JudgedField {
  readonly files: readonly JudgedFile[];
  readonly ground: Pick<HarvestGround, 'grounds' | 'isDrawn' | 'fieldPassAt'>;
  readonly settings: HarvestSettings;
}

/** Of one point, counted through all files as `PlacedPoints` counts; null where there is no such point. */
export function pointFacts({ files, ground, settings }: JudgedField, point: number): PointFacts | null {
  let [first, passesBefore] = [0, 0];
  for (const [fileIndex, file] of files.entries()) {
    const row = point - first;
    if (row >= 0 && row < file.input.count) {
      const at = file.order === null ? row : file.order.indexOf(row);
      return {
        ...recorded(file, at),
        pointOfFile: row + 1,
        pass: passAt(ground, file, fileIndex, at, passesBefore),
        ...sharesInside(file, at, ground, settings),
      };
    }
    first += file.input.count;
    passesBefore += file.track.spans.length;
  }
  return null;
}

function recorded(file: JudgedFile, at: number) {
  const { input, headerM, moisturePercent, speedMPerS, trackHeadingDegrees } = file;
  const timeS = known(input.timeS, at);
  const width = known(input.widthM, at);
  return {
    file: input.file,
    headingDegrees: known(trackHeadingDegrees, at),
    clockS: timeS === null || input.startS == null ? null : input.startS + timeS,
    timeS,
    speedMPerS: known(speedMPerS, at),
    moisturePercent: known(moisturePercent, at),
    flowKgPerS: known(input.massFlowKgPerS, at),
    widthM: width !== null && width > 0 ? width : headerM,
  };
}

function known(column: Float64Array | null, at: number): number | null {
  const value = column?.[at] ?? Number.NaN;
  return Number.isFinite(value) ? value : null;
}

function passAt(
  { fieldPassAt }: JudgedField['ground'],
  { track }: JudgedFile,
  fileIndex: number,
  at: number,
  passesBefore: number,
): PointFacts['pass'] {
  if (fieldPassAt !== undefined) {
    const number = fieldPassAt(fileIndex, at);
    return number === null ? null : { number, counted: 'acrossField' };
  }
  const pass = track.passOfPoint[at] ?? -1;
  return pass < 0 ? null : { number: passesBefore + pass + 1, counted: 'asDriven' };
}

/** Only strips with outlines have sides that a footprint may reach over. */
function sharesInside(
  file: JudgedFile,
  at: number,
  { grounds, isDrawn }: JudgedField['ground'],
  settings: HarvestSettings,
): Pick<PointFacts, 'shareInside' | 'passShareInside'> {
  const strip = file.strip[at] ?? -1;
  const ground = grounds[strip] ?? null;
  if (ground === null || !isDrawn || file.straddles === null)
    return { shareInside: null, passShareInside: null };
  const core = stripCore(ground.polygon, ground.oriented, sideMarginOf(ground, settings, file.headerM));
  const share = shareWithin(core, footprintAt(file, at));
  const pass = file.track.passOfPoint[at];
  const stretch = file.stretches.find((own) => own.pass === pass && own.strip === strip);
  return {
    shareInside: Number.isFinite(share) ? share : null,
    passShareInside: stretch?.shareInside ?? null,
  };
}
