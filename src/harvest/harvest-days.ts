import type { HarvestFile } from '../trial/trial-document.ts';
import type { HarvestPointsInput } from './harvest-input.ts';

/** Where the passes of a file begin and end, by place in the file as it was driven. */
export interface DrivenFile {
  readonly input: HarvestPointsInput;
  readonly track: { readonly spans: readonly { readonly first: number; readonly end: number }[] };
}

/** A pause longer than this between two passes is a night. */
const NIGHT_S = 6 * 3600;

export interface DaysOfFile {
  /** One a pass. */
  readonly days: readonly string[];
  /** Said, or told by dates: then a day has one name through all files. */
  readonly isKnown: boolean;
}

/**
 * On which day was each pass harvested? As the user says of a file; else by the dates of its clock, where passes of all
 * files without a night between them are one day (work goes on past midnight, and a clock may run by another zone);
 * else by a column of dates; else by the nights between the passes of the file alone.
 */
export function harvestDays(
  files: readonly DrivenFile[],
  said: readonly Pick<HarvestFile, 'path' | 'day'>[],
): readonly DaysOfFile[] {
  const dated = daysByClock(files);
  return files.map((file, f) => {
    const { input, track } = file;
    const day = said.find(({ path }) => path === input.file)?.day ?? null;
    if (day !== null) return { days: track.spans.map(() => day), isKnown: true };
    const byClock = dated[f];
    if (byClock !== null && byClock !== undefined) return { days: byClock, isKnown: true };
    const byColumn = daysByColumn(file);
    if (byColumn !== null) return { days: byColumn, isKnown: true };
    return { days: daysByNights(file), isKnown: false };
  });
}

function daysByClock(files: readonly DrivenFile[]): readonly (readonly string[] | null)[] {
  const passes = files.flatMap(({ input, track }, file) =>
    hasDates(input)
      ? track.spans.map(({ first, end }, pass) => ({
          file,
          pass,
          fromS: input.startS + (input.timeS[first] ?? 0),
          untilS: input.startS + (input.timeS[end - 1] ?? 0),
        }))
      : [],
  );
  const days = files.map(({ input, track }) => (hasDates(input) ? track.spans.map(() => '') : null));
  let [day, lastS] = [0, Number.NaN];
  for (const { file, pass, fromS, untilS } of passes.sort((a, b) => a.fromS - b.fromS)) {
    if (fromS - lastS > NIGHT_S) day += 1;
    if (!(untilS < lastS)) lastS = untilS;
    days[file]![pass] = `day ${day}`;
  }
  return days;
}

function hasDates(
  input: HarvestPointsInput,
): input is HarvestPointsInput & { readonly startS: number; readonly timeS: Float64Array } {
  return (input.startS ?? null) !== null && input.timeS !== null;
}

function daysByColumn({ input, track }: DrivenFile): readonly string[] | null {
  const { day } = input;
  if (!day) return null;
  return track.spans.map(({ first }) => `date ${day.names[day.of[first]!] ?? ''}`);
}

function daysByNights({ input, track }: DrivenFile): readonly string[] {
  let day = 0;
  return track.spans.map(({ first }, pass) => {
    const before = track.spans[pass - 1];
    const pauseS =
      before === undefined ? 0 : (input.timeS?.[first] ?? 0) - (input.timeS?.[before.end - 1] ?? 0);
    if (pauseS > NIGHT_S) day += 1;
    return `${input.file} ${day}`;
  });
}
