import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { type DecimalColumn, decimalColumn, roundedOnce } from './decimal-column.ts';
import { columnCells, type DelimitedTable, readDelimited } from './delimited-table.ts';
import type { PlotResponse, PlotTable } from './harvest-data.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { levelsAlike } from './levels-alike.ts';
import { headsALabel, mostlyNumeric } from './numeric-columns.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, findHeading, recogniseColumns } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn, Recognition } from './recognition.ts';
import { rowsTooLong } from './rows-too-long.ts';

export interface PlotTableOptions {
  /** Heading of the treatments; null: found by meaning. */
  readonly treatment: string | null;
  /** Heading of the blocks; null: none, the trial is read as completely randomized. */
  readonly block: string | null;
  /** Headings of the responses; none: the one numeric column that is left. */
  readonly responses: readonly string[];
  /** Whether rows of one treatment and block are samples in one plot. */
  readonly subsamples: boolean;
}

/** A plain table of plots. Treatments and blocks are categories even when they are numbers. */
export function readPlotTable(
  bytes: Uint8Array,
  file: string,
  options: PlotTableOptions,
): Outcome<PlotTable> {
  const table = readDelimited(bytes, file);
  if (!table.ok) return table;
  const problems: Problem[] = [...table.problems, ...rowsTooLong(table.value)];
  const columns = chooseColumns(table.value, options, problems);
  if (columns === null) return failure(...problems);
  const read = readColumns(table.value, columns, problems);
  if (read === null) return failure(...problems);
  const plots = options.subsamples ? averageSamples(read, table.value, problems) : read;
  return success(
    {
      file,
      treatmentHeading: table.value.headings[columns.treatment] ?? '',
      blockHeading: columns.block === null ? null : (table.value.headings[columns.block] ?? ''),
      row: plots.row,
      treatment: plots.treatment,
      block: plots.block,
      responses: plots.columns.map(({ heading, values }) => plotResponse(heading, values)),
      recognition: recognitionOf(table.value, columns, options),
    },
    problems,
  );
}

interface Columns {
  readonly treatment: number;
  readonly block: number | null;
  readonly responses: readonly number[];
}

function chooseColumns(
  table: DelimitedTable,
  options: PlotTableOptions,
  problems: Problem[],
): Columns | null {
  const named = (name: string, role: ColumnRole) => namedColumn(table, name, role, problems);
  const meant = recogniseColumns(table, 'table', {});
  const treatment =
    options.treatment === null
      ? treatmentByMeaning(table, meant.recognition, problems)
      : named(options.treatment, 'treatment');
  const block = options.block === null ? null : named(options.block, 'block');
  if (options.block === null) problems.push(...blockLeftOut(table, meant.recognition, treatment));
  const askedFor = [...new Set(options.responses)].map((name) => named(name, 'response'));
  const given = askedFor.filter((index) => index !== null);
  const responses =
    options.responses.length > 0 || treatment === null
      ? given
      : responseLeft(table, meant.recognition, treatment, block, problems);
  problems.push(...usedTwice(table, treatment, block, given));
  if (problems.some(({ severity }) => severity === 'error')) return null;
  return treatment === null ? null : { treatment, block, responses };
}

function namedColumn(
  table: DelimitedTable,
  name: string,
  role: ColumnRole,
  problems: Problem[],
): number | null {
  const index = findHeading(table.headings, name);
  if (index === null) {
    const details = { headings: table.headings, role };
    problems.push(intakeProblem('noSuchColumn', { file: table.file, column: name }, details));
  }
  return index;
}

function treatmentByMeaning(table: DelimitedTable, meant: Recognition, problems: Problem[]): number | null {
  const found = columnOf(meant, 'treatment');
  if (found !== null) {
    problems.push(intakeProblem('treatmentTaken', { file: table.file, column: found.heading }, {}));
    return found.columnIndex;
  }
  const candidates = meant.questions.find(({ role }) => role === 'treatment')?.candidates ?? table.headings;
  problems.push(intakeProblem('askWhichColumn', { file: table.file }, { role: 'treatment', candidates }));
  return null;
}

function blockLeftOut(table: DelimitedTable, meant: Recognition, treatment: number | null): Problem[] {
  const block = columnOf(meant, 'block');
  if (block === null || block.columnIndex === treatment) return [];
  return [intakeProblem('blockNotUsed', { file: table.file, column: block.heading }, {})];
}

/** The one numeric column that is neither treatment nor block, nor headed like a block or a plot's number. */
function responseLeft(
  table: DelimitedTable,
  meant: Recognition,
  treatment: number,
  block: number | null,
  problems: Problem[],
): number[] {
  const labels = new Set<number | null>([
    treatment,
    block,
    ...meant.columns.filter(({ role }) => role !== 'treatment').map(({ columnIndex }) => columnIndex),
  ]);
  const numeric = table.headings.flatMap((heading, index) =>
    !labels.has(index) && !headsALabel(heading) && mostlyNumeric(columnCells(table, index), table.decimals)
      ? [index]
      : [],
  );
  const [only, second] = numeric;
  if (only === undefined || second !== undefined) {
    const candidates = (only === undefined ? [...table.headings.keys()] : numeric)
      .filter((index) => index !== treatment && index !== block)
      .map((index) => table.headings[index] ?? '');
    problems.push(intakeProblem('askWhichColumn', { file: table.file }, { role: 'response', candidates }));
    return [];
  }
  problems.push(
    intakeProblem('responseTaken', { file: table.file, column: table.headings[only] ?? null }, {}),
  );
  return [only];
}

function usedTwice(
  table: DelimitedTable,
  treatment: number | null,
  block: number | null,
  responses: readonly number[],
): Problem[] {
  const uses: readonly (readonly [ColumnRole, number | null])[] = [
    ['treatment', treatment],
    ['block', block],
    ...responses.map((index) => ['response', index] as const),
  ];
  return [...table.headings.keys()].flatMap((index) => {
    const roles = [...new Set(uses.filter(([, used]) => used === index).map(([role]) => role))];
    if (roles.length < 2) return [];
    return [
      intakeProblem(
        'columnUsedTwice',
        { file: table.file, column: table.headings[index] ?? null },
        { roles },
      ),
    ];
  });
}

interface ReadResponse {
  readonly heading: string;
  readonly values: Pick<DecimalColumn, 'originText' | 'origin' | 'deviations'> & Partial<DecimalColumn>;
}

interface Plots {
  readonly row: readonly number[];
  readonly treatment: readonly string[];
  readonly block: readonly (string | null)[];
  readonly columns: readonly ReadResponse[];
}

/** A response that cannot be read is named and left out; the others go on. */
function readColumns(table: DelimitedTable, columns: Columns, problems: Problem[]): Plots | null {
  const treatment = levelsOf(table, columns.treatment, problems);
  const block = columns.block === null ? null : levelsOf(table, columns.block, problems);
  if (treatment === null || (columns.block !== null && block === null)) return null;
  const read = columns.responses.flatMap((index): ReadResponse[] => {
    const heading = table.headings[index] ?? '';
    const { file, rowNumbers, decimals } = table;
    const values = decimalColumn(columnCells(table, index), { file, heading, rowNumbers, decimals });
    problems.push(...values.problems);
    return values.ok ? [{ heading, values: values.value }] : [];
  });
  if (read.length === 0) return null;
  return { row: table.rowNumbers, treatment, block: block ?? treatment.map(() => null), columns: read };
}

function levelsOf(table: DelimitedTable, index: number, problems: Problem[]): string[] | null {
  const levels = columnCells(table, index).map((cell) => cell.trim());
  const column = table.headings[index] ?? null;
  const blank = table.rowNumbers.filter((_, i) => levels[i] === '');
  const [row] = blank;
  if (row !== undefined) {
    problems.push(intakeProblem('blankLevel', { file: table.file, row, column }, { count: blank.length }));
    return null;
  }
  problems.push(...levelsAlike(levels, { file: table.file, column }));
  return levels;
}

/** Samples of one treatment and block become one plot, at the place of their first row. */
function averageSamples(read: Plots, table: DelimitedTable, problems: Problem[]): Plots {
  const groups = new Map<string, number[]>();
  read.treatment.forEach((treatment, index) => {
    const key = JSON.stringify([treatment, read.block[index]]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  });
  const plots = [...groups.values()];
  const first = plots.map(([index = 0]) => index);
  const details = { rows: read.row.length, plots: plots.length };
  problems.push(intakeProblem('subsamplesAveraged', { file: table.file }, details));
  return {
    row: first.map((index) => read.row[index] ?? 0),
    treatment: first.map((index) => read.treatment[index] ?? ''),
    block: first.map((index) => read.block[index] ?? null),
    columns: read.columns.map((column) => averagedResponse(column, plots, table, problems)),
  };
}

/** The sum of the exact decimals, rounded once, over their number. */
function averagedResponse(
  { heading, values }: ReadResponse,
  plots: readonly (readonly number[])[],
  table: DelimitedTable,
  problems: Problem[],
): ReadResponse {
  const { units = [], decimalPlaces = 0 } = values;
  let skipped = 0;
  const deviations = plots.map((indices) => {
    const taken = indices.map((index) => units[index] ?? null).filter((unit) => unit !== null);
    if (taken.length === 0) return null;
    skipped += indices.length - taken.length;
    const sum = taken.reduce((total, unit) => total + unit, 0n);
    return roundedOnce(sum, decimalPlaces) / taken.length;
  });
  if (skipped > 0) {
    problems.push(
      intakeProblem('subsamplesSkipped', { file: table.file, column: heading }, { count: skipped }),
    );
  }
  return { heading, values: { originText: values.originText, origin: values.origin, deviations } };
}

function plotResponse(heading: string, values: ReadResponse['values']): PlotResponse {
  return {
    name: heading,
    unit: takeHeadingApart(heading).unitText,
    originText: values.originText,
    origin: values.origin,
    deviations: values.deviations,
  };
}

function recognitionOf(table: DelimitedTable, columns: Columns, options: PlotTableOptions): Recognition {
  const column = (role: ColumnRole, columnIndex: number, chosenByUser: boolean): RecognisedColumn => ({
    role,
    heading: table.headings[columnIndex] ?? '',
    columnIndex,
    unit: role === 'response' ? takeHeadingApart(table.headings[columnIndex] ?? '').unitText : null,
    readAs: null,
    chosenByUser,
    assumption: null,
  });
  const recognised = [
    column('treatment', columns.treatment, options.treatment !== null),
    ...(columns.block === null ? [] : [column('block', columns.block, true)]),
    ...columns.responses.map((index) => column('response', index, options.responses.length > 0)),
  ];
  const used = new Set(recognised.map(({ columnIndex }) => columnIndex));
  return {
    columns: recognised,
    questions: [],
    unusedHeadings: table.headings.filter((_, index) => !used.has(index)),
    headings: table.headings,
    separator: table.separator,
    decimalMark: table.decimals.mark,
  };
}
