import type { Outcome, Problem } from '../trial/problem.ts';
import type { ColumnChoice } from '../trial/trial-document.ts';
import { saysWetOrDry } from '../trial/wet-or-dry.ts';
import { APPLICATION_ROLES, APPLICATION_ROLES_BY_FLOW } from './application-words.ts';
import { mixedUnits, unitOfCells } from './cell-units.ts';
import { readDecimal } from './decimal-number.ts';
import { columnCells, type DelimitedTable, readDelimited } from './delimited-table.ts';
import { type FileBytes, wholeOf } from './file-bytes.ts';
import { type HeadingParts, takeHeadingApart } from './heading-parts.ts';
import { findUnit, type KnownUnit, measures, type Quantity, UNITS_OFFERED } from './known-units.ts';
import { clockOfNumbers, type NumberClock } from './number-clock.ts';
import { numberColumn } from './number-column.ts';
import { openPointFile, type PointFile } from './point-file.ts';
import { clockTimes, datesAlone } from './point-times.ts';
import { canBeGridMetres, isGridLetter, isGridPosition, positionUnit } from './position-units.ts';
import { type IntakeAssumption, intakeProblem } from './problem-codes.ts';
import {
  CORNER_ROLES,
  HAND_ROLES,
  POINT_ROLES,
  type RoleWords,
  TABLE_ROLES,
  YIELD_WORDS,
} from './quantity-words.ts';
import type { ColumnQuestion, ColumnRole, RecognisedColumn, Recognition } from './recognition.ts';

export type TableKind = 'points' | 'hand' | 'table' | 'corners' | 'application' | 'applicationByFlow';

/**
 * Which column holds what, as chosen by the user (`HarvestFile.columns`). A blank heading says that no column is
 * to be taken for the role; a null unit leaves the unit to the heading.
 */
export type ColumnChoices = Readonly<Record<string, ColumnChoice>>;

export interface ColumnReading {
  readonly recognition: Recognition;
  /** The unit by which a recognised column is read; absent for text. */
  readonly units: ReadonlyMap<ColumnRole, KnownUnit>;
  /** Open questions and choices that do not fit; while there is an error, the table is not read. */
  readonly problems: readonly Problem[];
}

const ROLES: Readonly<Record<TableKind, readonly RoleWords[]>> = {
  points: POINT_ROLES,
  hand: HAND_ROLES,
  table: TABLE_ROLES,
  corners: CORNER_ROLES,
  application: APPLICATION_ROLES,
  applicationByFlow: APPLICATION_ROLES_BY_FLOW,
};

/**
 * Recognises columns by the quantity and the unit that their headings name, whatever their order. Two columns
 * that answer equally well are a question (`askWhichColumn`), a missing unit that matters is one (`askUnit`).
 */
export function recogniseColumns(
  table: DelimitedTable,
  kind: TableKind,
  choices: ColumnChoices,
): ColumnReading {
  const work: Work = {
    table,
    parts: table.headings.map(takeHeadingApart),
    choices,
    taken: new Set(),
    problems: [],
  };
  const chosen = ROLES[kind].flatMap((words) => chosenColumn(words, work));
  const questions: ColumnQuestion[] = [];
  const found = ROLES[kind].flatMap((words) => foundColumn(words, work, questions));
  const picks = [...chosen, ...found].sort((a, b) => a.columnIndex - b.columnIndex);
  const withUnits = picks.map((pick) => resolveUnit(pick, work));
  return {
    recognition: recognitionOf(
      table,
      withUnits.map(({ column }) => column),
      questions,
    ),
    units: new Map(withUnits.flatMap(({ column, unit }) => (unit === null ? [] : [[column.role, unit]]))),
    problems: work.problems,
  };
}

/** The same from the bytes of a file, for a screen that shows what was understood before anything is read. */
export function recogniseFile(
  bytes: FileBytes,
  file: string,
  kind: TableKind,
  choices: ColumnChoices,
): Outcome<ColumnReading> {
  const opened = kind === 'points' ? openPointFile(bytes, file) : null;
  const table = opened === null ? readDelimited(wholeOf(bytes), file) : onlyTable(opened);
  if (!table.ok) return table;
  return { ok: true, value: recogniseColumns(table.value, kind, choices), problems: table.problems };
}

function onlyTable(opened: Outcome<PointFile>): Outcome<DelimitedTable> {
  return opened.ok ? { ...opened, value: opened.value.table } : opened;
}

interface Work {
  readonly table: DelimitedTable;
  readonly parts: readonly HeadingParts[];
  readonly choices: ColumnChoices;
  readonly taken: Set<number>;
  readonly problems: Problem[];
}

interface Pick {
  readonly words: RoleWords;
  readonly columnIndex: number;
  readonly choice: ColumnChoice | null;
  readonly assumption: IntakeAssumption | null;
}

function chosenColumn(words: RoleWords, work: Work): Pick[] {
  const choice = ownChoice(work.choices, words.role);
  if (choice === null || choice.heading.trim() === '') return [];
  const columnIndex = findHeading(work.table.headings, choice.heading);
  if (columnIndex === null) {
    const details = { headings: work.table.headings, role: words.role };
    work.problems.push(
      intakeProblem('noSuchColumn', { file: work.table.file, column: choice.heading }, details),
    );
    return [];
  }
  work.taken.add(columnIndex);
  return [{ words, columnIndex, choice, assumption: null }];
}

function ownChoice(choices: ColumnChoices, role: string): ColumnChoice | null {
  return Object.hasOwn(choices, role) ? (choices[role] ?? null) : null;
}

/**
 * Exactly first, then without regard to capitals and outer spaces, then without the unit behind the name, where that
 * names one column alone.
 */
export function findHeading(headings: readonly string[], name: string): number | null {
  const exact = headings.indexOf(name);
  if (exact >= 0) return exact;
  const folded = name.trim().toLowerCase();
  const alike = headings.flatMap((heading, index) =>
    heading.trim().toLowerCase() === folded ? [index] : [],
  );
  if (alike.length > 0) return alike.length === 1 ? (alike[0] ?? null) : null;
  const withUnit = headings.flatMap((heading, index) =>
    heading
      .trim()
      .toLowerCase()
      .replace(/\s*\([^()]*\)$/, '') === folded
      ? [index]
      : [],
  );
  return withUnit.length === 1 ? (withUnit[0] ?? null) : null;
}

function foundColumn(words: RoleWords, work: Work, questions: ColumnQuestion[]): Pick[] {
  if (ownChoice(work.choices, words.role) !== null) return [];
  const best = bestCandidates(words, work);
  const [first] = best;
  if (first === undefined) return coordinateLetter(words, work);
  if (best.length > 1 && words.isLabel !== true) {
    const candidates = best.map((index) => work.table.headings[index] ?? '');
    questions.push({ role: words.role, candidates });
    work.problems.push(
      intakeProblem('askWhichColumn', { file: work.table.file }, { role: words.role, candidates }),
    );
    for (const index of best) work.taken.add(index);
    return [];
  }
  work.taken.add(first);
  return [{ words, columnIndex: first, choice: null, assumption: notPlainlyNamed(words, first, work) }];
}

/** The last of several lists of names holds words that often mean something else: "rate", "track", "status". */
function notPlainlyNamed(words: RoleWords, columnIndex: number, work: Work): IntakeAssumption | null {
  const parts = work.parts[columnIndex];
  if (words.role === 'longitude' || words.role === 'latitude') return null;
  const rank = parts === undefined ? null : candidateFor(words, parts, columnIndex)?.rank;
  return words.named.length > 1 && rank === words.named.length - 1 ? 'onlyCandidate' : null;
}

interface Candidate {
  readonly index: number;
  readonly rank: number;
  readonly hasUnit: boolean;
  readonly strangeWords: number;
}

/** Plainest name first, then a fitting unit, then the fewest words that say something else. */
function bestCandidates(words: RoleWords, work: Work): number[] {
  const candidates = work.parts.flatMap((parts, index) => {
    const candidate = work.taken.has(index) ? null : candidateFor(words, parts, index);
    if (candidate === null || (words.role === 'time' && datesAlone(sampleCells(work.table, index))))
      return [];
    return [candidate];
  });
  // A wrong yield column is the worst mistake of all, so several are always a question.
  if (words.role === 'yield') return candidates.map(({ index }) => index);
  const keys = ['rank', 'unitMissing', 'strangeWords'] as const;
  let left = candidates.map((c) => ({ ...c, unitMissing: c.hasUnit ? 0 : 1 }));
  for (const key of keys) {
    const least = Math.min(...left.map((candidate) => candidate[key]));
    left = left.filter((candidate) => candidate[key] === least);
  }
  return left.map(({ index }) => index);
}

function candidateFor(words: RoleWords, parts: HeadingParts, index: number): Candidate | null {
  const unit = parts.unit;
  const isOfUnclearKind = unit?.quantity === 'applicationRate' && words.role === 'appliedRate';
  const measuresIt = measures(unit, words.quantity) || isOfUnclearKind || isGridPosition(words.role, parts);
  if (unit === null ? words.needsUnit === true : words.quantity !== null && !measuresIt) return null;
  if (unit !== null && words.quantity === null && parts.words.length > 0 && unit.name !== 'g') return null;
  const strange = (known: readonly string[]) =>
    parts.words.filter((word) => !known.includes(word) && !words.beside.includes(word)).length;
  if (isYieldInMass(words, parts)) {
    return { index, rank: words.named.length, hasUnit: true, strangeWords: strange(YIELD_WORDS) };
  }
  const rank = words.named.findIndex((names) => parts.words.some((word) => names.includes(word)));
  if (rank < 0 || parts.words.some((word) => words.never.includes(word))) return null;
  if (words.isLabel && strange(words.named[rank] ?? []) > 0) return null;
  return { index, rank, hasUnit: unit !== null, strangeWords: strange(words.named[rank] ?? []) };
}

/** "Yield (kg)" is a weight and "Yield (kg/s)" a flow: the unit says more than the word. */
function isYieldInMass(words: RoleWords, parts: HeadingParts): boolean {
  if (!['mass', 'weight', 'massFlow'].includes(words.role)) return false;
  return parts.unit?.quantity === words.quantity && parts.words.some((word) => YIELD_WORDS.includes(word));
}

const CELLS_LOOKED_AT = 200;

/**
 * "x" and "y" are taken for longitude and latitude only while every value is a possible one and not all are small, or
 * for easting and northing while all are possible metres of a map grid.
 */
function coordinateLetter(words: RoleWords, work: Work): Pick[] {
  const letter = { longitude: 'x', latitude: 'y' }[words.role as string];
  if (letter === undefined) return [];
  const index = work.parts.findIndex((parts) => isGridLetter(words.role, parts));
  if (index < 0 || work.taken.has(index)) return [];
  const values = sampleNumbers(work.table, index);
  const limit = words.role === 'longitude' ? 180 : 90;
  const isInDegrees = values.every((value) => Math.abs(value) <= limit && !Number.isInteger(value));
  const isInMetres = !isInDegrees && values.every((value) => canBeGridMetres(words.role, value));
  if (values.length === 0 || !(isInDegrees || isInMetres)) return [];
  work.taken.add(index);
  const assumption = isInDegrees ? 'coordinateLetters' : 'gridLetters';
  return [{ words, columnIndex: index, choice: null, assumption }];
}

function sampleNumbers(table: DelimitedTable, columnIndex: number): number[] {
  return sampleCells(table, columnIndex).flatMap((cell) => {
    const read = readDecimal(cell, table.decimals);
    return read.kind === 'number' ? [Number(read.text)] : [];
  });
}

function sampleCells(table: DelimitedTable, columnIndex: number): string[] {
  return columnCells({ ...table, rows: table.rows.slice(0, CELLS_LOOKED_AT) }, columnIndex);
}

interface Resolved {
  readonly column: RecognisedColumn;
  readonly unit: KnownUnit | null;
}

function resolveUnit(pick: Pick, work: Work): Resolved {
  const { words, columnIndex, choice } = pick;
  const parts = work.parts[columnIndex];
  const heading = work.table.headings[columnIndex] ?? '';
  const chosenUnit = choice?.unit?.trim() ? choice.unit.trim() : null;
  const assumptions: IntakeAssumption[] = pick.assumption === null ? [] : [pick.assumption];
  const unit =
    words.quantity === null
      ? null
      : unitOf(words, words.quantity, columnIndex, chosenUnit, assumptions, work);
  const basis = words.quantity === 'percent' ? null : saysWetOrDry(parts?.words ?? []);
  if (basis !== null) assumptions.push(basis === 'wet' ? 'headingSaysWet' : 'headingSaysDry');
  return {
    unit,
    column: {
      role: words.role,
      heading,
      columnIndex,
      unit: chosenUnit ?? parts?.unitText ?? null,
      readAs: unit?.name ?? null,
      chosenByUser: choice !== null,
      assumption: assumptions.length === 0 ? null : assumptions.join(' '),
    },
  };
}

function unitOf(
  words: RoleWords,
  quantity: Quantity,
  columnIndex: number,
  chosenUnit: string | null,
  assumptions: IntakeAssumption[],
  work: Work,
): KnownUnit | null {
  const heading = work.table.headings[columnIndex] ?? '';
  const place = { file: work.table.file, column: heading };
  const units = UNITS_OFFERED[quantity];
  const isGrid = assumptions.includes('gridLetters');
  const parts = work.parts[columnIndex];
  const position = positionUnit(words.role, parts, chosenUnit, work.choices, work.table, isGrid);
  if (position === 'askZone') {
    const example = sampleCells(work.table, columnIndex).find((cell) => cell.trim() !== '') ?? '';
    work.problems.push(intakeProblem('askUtmZone', place, { role: words.role, example }));
    return null;
  }
  if (position !== null) return position;
  if (chosenUnit !== null) {
    const unit = findUnit(chosenUnit);
    if (unit !== null && measures(unit, quantity)) return unit;
    work.problems.push(intakeProblem('unknownUnit', place, { role: words.role, unit: chosenUnit, units }));
    return null;
  }
  const written = work.parts[columnIndex]?.unit ?? null;
  if (written !== null && measures(written, quantity)) {
    const isForm = written.name.startsWith('hhmm') && isClock(work.table, columnIndex);
    return isForm ? null : written;
  }
  const inCells = unitOfCells(sampleCells(work.table, columnIndex), quantity, work.table.decimals);
  if (inCells === 'mixed') {
    work.problems.push(...mixedInSample(columnIndex, work));
    return null;
  }
  if (inCells !== null) {
    work.problems.push(intakeProblem('unitsInCells', place, { unit: inCells.name }));
    return inCells;
  }
  const granted = unitTakenForGranted(words.role, quantity, columnIndex, work, assumptions);
  if (granted !== 'ask') return granted;
  work.problems.push(intakeProblem('askUnit', place, { role: words.role, units }));
  return null;
}

function mixedInSample(columnIndex: number, { table }: Work): Problem[] {
  const column = numberColumn(sampleCells(table, columnIndex), table.decimals);
  const { file, rowNumbers } = table;
  return mixedUnits(column, null, { file, rowNumbers, heading: table.headings[columnIndex] ?? '' });
}

/** Positions are in degrees by nature, moisture and direction by custom; clock times carry their unit themselves. */
function unitTakenForGranted(
  role: ColumnRole,
  quantity: Quantity,
  columnIndex: number,
  work: Work,
  assumptions: IntakeAssumption[],
): KnownUnit | null | 'ask' {
  if (role === 'longitude' || role === 'latitude') return findUnit('deg');
  if (quantity === 'percent') assumptions.push('percentTakenForGranted');
  if (quantity === 'angle') assumptions.push('degreesTakenForGranted');
  if (quantity === 'percent') return findUnit('%');
  if (quantity === 'angle') return findUnit('deg');
  return quantity === 'time' ? clockUnit(columnIndex, work, assumptions) : 'ask';
}

/** null: clock times, which carry their unit themselves. */
function clockUnit(
  columnIndex: number,
  work: Work,
  assumptions: IntakeAssumption[],
): KnownUnit | null | 'ask' {
  if (isClock(work.table, columnIndex)) return null;
  const clock = clockOfNumbers(sampleCells(work.table, columnIndex), work.parts[columnIndex]?.words ?? []);
  if (clock === null) return 'ask';
  assumptions.push(CLOCK_ASSUMPTIONS[clock]);
  return findUnit(clock);
}

const CLOCK_ASSUMPTIONS: Readonly<Record<NumberClock, IntakeAssumption>> = {
  hhmmss: 'clockInDigits',
  hhmm: 'clockInDigits',
  days: 'clockInDays',
  s: 'secondsByName',
};

/** Clock times carry their unit themselves, also where they are written as one long number. */
function isClock(table: DelimitedTable, columnIndex: number): boolean {
  const numbers = sampleCells(table, columnIndex).filter(
    (cell) => readDecimal(cell, table.decimals).kind === 'number',
  );
  return numbers.length === 0 || clockTimes(numbers).unreadable.count === 0;
}

function recognitionOf(
  table: DelimitedTable,
  columns: readonly RecognisedColumn[],
  questions: readonly ColumnQuestion[],
): Recognition {
  const used = new Set(columns.map(({ columnIndex }) => columnIndex));
  return {
    columns,
    questions,
    unusedHeadings: table.headings.filter((_, index) => !used.has(index)),
    headings: table.headings,
    separator: table.separator,
    decimalMark: table.decimals.mark,
  };
}

export function columnOf(recognition: Recognition, role: ColumnRole): RecognisedColumn | null {
  return recognition.columns.find((column) => column.role === role) ?? null;
}
