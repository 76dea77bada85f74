import { type Problem, problem } from '../trial/problem.ts';
import type { HarvestFile, TrialDocument } from '../trial/trial-document.ts';
import { harvestDays } from './harvest-days.ts';
import type { PointLabels } from './harvest-input.ts';
import { partlyLinedUp } from './partly-lined-up.ts';
import type { JudgedFile } from './pass-choice.ts';

const CONDITIONS = ['direction', 'machine', 'operator', 'day', 'file'] as const;
type Condition = (typeof CONDITIONS)[number];
type LevelOfStrip = readonly (string | null)[];

/** What may have gone with a treatment instead of with a block: one level a strip, null where it has none. */
export interface HarvestConditions extends Readonly<Record<Condition, LevelOfStrip>> {
  /** Days have one name through all files: said, or told by dates. */
  readonly daysAreKnown: boolean;
  /** The machine of strips that one machine harvested alone; null elsewhere. */
  readonly onlyMachine: LevelOfStrip;
}

/** A condition lines up when knowing the treatment tells it for at least this share of the strips. */
const TOLD_SHARE = 0.9;

type Counts = Readonly<Record<Condition, Map<string, number>>>;

/** For each strip the direction, machine, operator, day and file in which most of its used points were harvested. */
export function harvestConditions(trial: TrialDocument, files: readonly JudgedFile[]): HarvestConditions {
  const counts = trial.strips.map(
    () => Object.fromEntries(CONDITIONS.map((name) => [name, new Map()])) as unknown as Counts,
  );
  const days = harvestDays(files, trial.harvestFiles);
  files.forEach((file, f) => {
    const said = trial.harvestFiles.find(({ path }) => path === file.input.file) ?? null;
    for (const { strip, pass, at, direction, shareInside } of file.stretches) {
      const own = counts[strip];
      if (own === undefined || !isUsed(file, at)) continue;
      const share = shareInside ?? 1;
      if (direction !== 'across') add(own.direction, direction, at.length * share);
      add(own.file, file.input.file, at.length * share);
      add(own.day, days[f]!.days[pass] ?? '', at.length * share);
      addLabels(own.machine, at, share, said, 'machine', file.input.machine);
      addLabels(own.operator, at, share, said, 'operator', file.input.operator);
    }
  });
  const levels = (name: Condition) => counts.map((own) => mostOf(own[name]));
  return {
    direction: levels('direction'),
    machine: levels('machine'),
    operator: levels('operator'),
    day: levels('day'),
    file: levels('file'),
    daysAreKnown: days.every(({ isKnown }) => isKnown),
    onlyMachine: counts.map(({ machine }) => (machine.size === 1 ? mostOf(machine) : null)),
  };
}

function isUsed({ straddles }: JudgedFile, at: Int32Array): boolean {
  return straddles === null || straddles[at[0]!] === 0;
}

/** What the user says of the whole file goes before what its column says of each point. */
function addLabels(
  counts: Map<string, number>,
  at: Int32Array,
  share: number,
  file: HarvestFile | null,
  what: 'machine' | 'operator',
  labels: PointLabels | null | undefined,
): void {
  const said = file?.[what] ?? null;
  if (said !== null) {
    add(counts, said, at.length * share);
  } else if (labels) {
    for (const i of at) if (labels.of[i]! >= 0) add(counts, labels.names[labels.of[i]!]!, share);
  }
}

function add(counts: Map<string, number>, level: string, points: number): void {
  counts.set(level, (counts.get(level) ?? 0) + points);
}

function mostOf(counts: ReadonlyMap<string, number>): string | null {
  return [...counts].sort(([, a], [, b]) => b - a)[0]?.[0] ?? null;
}

const CODES: Readonly<Record<Condition, string>> = {
  direction: 'directionLinesUp',
  machine: 'machineLinesUp',
  operator: 'operatorLinesUp',
  day: 'dayLinesUp',
  file: 'fileLinesUp',
};

const PARTLY_CODES: Readonly<Record<Condition, string>> = {
  direction: 'directionPartlyLinesUp',
  machine: 'machinePartlyLinesUp',
  operator: 'operatorPartlyLinesUp',
  day: 'dayPartlyLinesUp',
  file: 'filePartlyLinesUp',
};

/**
 * Which conditions line up with the treatments rather than with the blocks? One does when strips of one treatment
 * share its level (for nine tenths of all strips), and knowing the block would tell it less well. Days that no date
 * tells are looked at within files alone. Those that do not, but follow the treatments for half of what they vary within
 * blocks (`partlyLinedUp`), are said too. Not asked of trials without replication.
 */
export function liningUp(trial: TrialDocument, conditions: HarvestConditions): Problem[] {
  const told = CONDITIONS.map((name) => ({ name, ...toldShares(trial, conditions[name]) }));
  const linedUp = new Set(told.filter(({ isLinedUp }) => isLinedUp).map(({ name }) => name));
  const saysSame = (a: Condition, b: Condition) =>
    linedUp.has(a) && isSameDivision(conditions[a], conditions[b]);
  const isSaidOtherwise = (name: Condition) => {
    // A day that is told apart by its file alone is said with the file, and a file with what sets it apart.
    if (name === 'day') return !conditions.daysAreKnown && linedUp.has('file');
    return name === 'file' && (['machine', 'operator'] as const).some((other) => saysSame(other, 'file'));
  };
  const whole = told
    .filter(({ name, isLinedUp }) => isLinedUp && !isSaidOtherwise(name))
    .map(({ name, byTreatment }) => problem('warning', CODES[name], {}, { sharePercent: 100 * byTreatment }));
  const replicated = new Set(told.filter((one) => one.isReplicated).map(({ name }) => name));
  return [...whole, ...partly(trial, conditions, linedUp, replicated)];
}

/** Those that follow the treatments in part, each division of the strips once: a file is said with what sets it apart. */
function partly(
  trial: TrialDocument,
  conditions: HarvestConditions,
  linedUp: ReadonlySet<Condition>,
  replicated: ReadonlySet<Condition>,
): Problem[] {
  const said: Condition[] = [...linedUp];
  return CONDITIONS.flatMap((name) => {
    if (linedUp.has(name) || (name === 'day' && !conditions.daysAreKnown)) return [];
    if (name === 'file' && said.some((other) => isSameDivision(conditions[other], conditions.file)))
      return [];
    const found = replicated.has(name) ? partlyLinedUp(trial, conditions[name]) : null;
    if (found === null) return [];
    said.push(name);
    const { level, most, mostPercent, least, leastPercent } = found;
    return [problem('warning', PARTLY_CODES[name], {}, { level, most, mostPercent, least, leastPercent })];
  });
}

function isReplicated({ strips }: TrialDocument, levels: LevelOfStrip): boolean {
  const known = strips.filter((_, s) => (levels[s] ?? null) !== null);
  return known.length >= 2 * new Set(known.map(({ treatment }) => treatment)).size;
}

/** Do two conditions put the strips into the same groups? */
function isSameDivision(a: LevelOfStrip, b: LevelOfStrip): boolean {
  const pairs = new Set(a.map((level, s) => JSON.stringify([level, b[s]])));
  return pairs.size === new Set(a).size && pairs.size === new Set(b).size;
}

function toldShares(
  trial: TrialDocument,
  levels: LevelOfStrip,
): { readonly byTreatment: number; readonly isLinedUp: boolean; readonly isReplicated: boolean } {
  const known = trial.strips.flatMap(({ treatment, block }, s) => {
    const level = levels[s] ?? null;
    return level === null ? [] : [{ treatment, block: block ?? '', level }];
  });
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
  const repeated = isReplicated(trial, levels);
  return {
    byTreatment,
    isLinedUp: repeated && byTreatment >= TOLD_SHARE && byTreatment > otherwise,
    isReplicated: repeated,
  };
}
