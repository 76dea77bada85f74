import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { JudgedFile } from './pass-choice.ts';

/** What may have gone with a treatment instead of with a block: one level a strip, null where it has none. */
export interface HarvestConditions {
  readonly direction: readonly (string | null)[];
  readonly file: readonly (string | null)[];
  readonly day: readonly (string | null)[];
}

/** A pause longer than this between two passes of a file is a night. */
const NIGHT_S = 6 * 3600;
/** A condition lines up when knowing the treatment tells it for at least this share of the strips. */
const TOLD_SHARE = 0.9;

/** For each strip the direction, file and day in which most of its used points were harvested. */
export function harvestConditions(trial: TrialDocument, files: readonly JudgedFile[]): HarvestConditions {
  const counts = trial.strips.map(() => ({
    direction: new Map<string, number>(),
    file: new Map<string, number>(),
    day: new Map<string, number>(),
  }));
  for (const file of files) {
    const days = daysOfPasses(file);
    for (const { strip, pass, at, direction, shareInside } of file.stretches) {
      const own = counts[strip];
      if (own === undefined || !isUsed(file, at)) continue;
      const points = at.length * (shareInside ?? 1);
      if (direction !== 'across') add(own.direction, direction, points);
      add(own.file, file.input.file, points);
      add(own.day, `${file.input.file} ${days[pass]}`, points);
    }
  }
  return {
    direction: counts.map(({ direction }) => mostOf(direction)),
    file: counts.map(({ file }) => mostOf(file)),
    day: counts.map(({ day }) => mostOf(day)),
  };
}

function isUsed({ straddles }: JudgedFile, at: Int32Array): boolean {
  return straddles === null || straddles[at[0]!] === 0;
}

function daysOfPasses({ input, track }: JudgedFile): readonly number[] {
  let day = 0;
  return track.spans.map(({ first }, pass) => {
    const before = track.spans[pass - 1];
    const pauseS =
      before === undefined ? 0 : (input.timeS?.[first] ?? 0) - (input.timeS?.[before.end - 1] ?? 0);
    if (pauseS > NIGHT_S) day += 1;
    return day;
  });
}

function add(counts: Map<string, number>, level: string, points: number): void {
  counts.set(level, (counts.get(level) ?? 0) + points);
}

function mostOf(counts: ReadonlyMap<string, number>): string | null {
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0] ?? null;
}

/**
 * Which conditions line up with the treatments rather than with the blocks? One does when strips of one treatment
 * share its level (for nine tenths of all strips), and knowing the block would tell it less well. Days are looked at
 * within files alone, since a file may hold no date. Not asked of trials without replication.
 */
export function liningUp(trial: TrialDocument, conditions: HarvestConditions): Problem[] {
  const codes = { direction: 'directionLinesUp', file: 'fileLinesUp', day: 'dayLinesUp' } as const;
  const files = toldShares(trial, conditions.file);
  return (['direction', 'file', 'day'] as const).flatMap((what) => {
    // A day that is told apart by its file alone was said with the file.
    if (what === 'day' && files.isLinedUp) return [];
    const { isLinedUp, byTreatment } = toldShares(trial, conditions[what]);
    return isLinedUp ? [problem('warning', codes[what], {}, { sharePercent: 100 * byTreatment })] : [];
  });
}

function toldShares(
  trial: TrialDocument,
  levels: readonly (string | null)[],
): { readonly byTreatment: number; readonly isLinedUp: boolean } {
  const known = trial.strips.flatMap(({ treatment, block }, s) => {
    const level = levels[s] ?? null;
    return level === null ? [] : [{ treatment, block: block ?? '', level }];
  });
  const isReplicated = known.length >= 2 * new Set(known.map(({ treatment }) => treatment)).size;
  const told = (group: (strip: (typeof known)[number]) => string) => {
    const counts = new Map<string, Map<string, number>>();
    for (const strip of known) {
      const own = counts.get(group(strip)) ?? new Map<string, number>();
      counts.set(group(strip), own);
      add(own, strip.level, 1);
    }
    return [...counts.values()].reduce((sum, own) => sum + Math.max(...own.values()), 0) / known.length;
  };
  const byTreatment = told(({ treatment }) => treatment);
  const otherwise = Math.max(
    told(() => ''),
    told(({ block }) => block),
  );
  return { byTreatment, isLinedUp: isReplicated && byTreatment >= TOLD_SHARE && byTreatment > otherwise };
}
