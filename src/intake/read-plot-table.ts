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

/** Further columns that a design needs; null: not there. */
export interface DesignColumns {
  /** Rows and columns of a Latin square. */
  readonly row: string | null;
  readonly column: string | null;
  /** Two factors whose combinations are the treatments; empty: one treatment column. */
  readonly factors: readonly string[];
  /** A number measured on each plot beside the response. */
  readonly covariate: string | null;
  /** Place of each plot across the field. */
  readonly trend: string | null;
}

export interface PlotTableOptions {
  /** Heading of the treatments; null: found by meaning. */
  readonly treatment: string | null;
  /** Heading of the blocks; null: none, the trial is read as completely randomized. */
  readonly block: string | null;
  /** Headings of the responses; none: the one numeric column that is left. */
  readonly responses: readonly string[];
  /** Whether rows of one treatment and block are samples in one plot. */
  readonly subsamples: boolean;
  /** Absent: treatments, perhaps in blocks, and nothing else. */
  readonly design?: DesignColumns;
}

export interface LevelColumn {
  readonly heading: string;
  /** One a plot. */
  readonly levels: readonly string[];
}

export interface NumberColumn {
  readonly heading: string;
  /** One a plot; null: blank. */
  readonly values: readonly (number | null)[];
}

/** A table of plots with the further columns of its design. */
export interface DesignedPlotTable extends PlotTable {
  readonly rows: LevelColumn | null;
  readonly columns: LevelColumn | null;
  /** Two, or none. */
  readonly factors: readonly LevelColumn[];
  readonly covariate: NumberColumn | null;
  readonly trend: NumberColumn | null;
}

/** A plain table of plots. Treatments and blocks are categories even when they are numbers. */
export function readPlotTable(
  bytes: Uint8Array,
  file: string,
  options: PlotTableOptions,
): Outcome<DesignedPlotTable> {
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
      treatmentHeading: headingOfTreatments(table.value, columns),
      blockHeading: columns.block === null ? null : (table.value.headings[columns.block] ?? ''),
      row: plots.row,
      treatment: plots.treatment,
      block: plots.block,
      responses: plots.columns.map(({ heading, values }) => plotResponse(heading, values)),
      ...plots.design,
      recognition: recognitionOf(table.value, columns, options),
    },
    problems,
  );
}

interface Columns {
  /** One column, or two whose combinations are the treatments. */
  readonly treatments: readonly number[];
  readonly block: number | null;
  readonly rows: number | null;
  readonly columns: number | null;
  readonly covariate: number | null;
  readonly trend: number | null;
  readonly responses: readonly number[];
}

/** What a column is wanted for; wider than what is recognised by meaning. */
type TableRole = ColumnRole | 'row' | 'column' | 'factor' | 'covariate' | 'trend';

const NO_DESIGN_COLUMNS: DesignColumns = {
  row: null,
  column: null,
  factors: [],
  covariate: null,
  trend: null,
};

function headingOfTreatments(table: DelimitedTable, { treatments }: Columns): string {
  return treatments.map((index) => table.headings[index] ?? '').join(' x ');
}

function chooseColumns(
  table: DelimitedTable,
  options: PlotTableOptions,
  problems: Problem[],
): Columns | null {
  const named = (name: string, role: TableRole) => namedColumn(table, name, role, problems);
  const ifNamed = (name: string | null, role: TableRole) => (name === null ? null : named(name, role));
  const design = options.design ?? NO_DESIGN_COLUMNS;
  const meant = recogniseColumns(table, 'table', {});
  const treatments = treatmentColumns(table, options, meant.recognition, problems);
  const [treatment = null] = treatments;
  const block = ifNamed(options.block, 'block');
  const others = {
    rows: ifNamed(design.row, 'row'),
    columns: ifNamed(design.column, 'column'),
    covariate: ifNamed(design.covariate, 'covariate'),
    trend: ifNamed(design.trend, 'trend'),
  };
  if (options.block === null && others.rows === null)
    problems.push(...blockLeftOut(table, meant.recognition, [...treatments, ...Object.values(others)]));
  const askedFor = [...new Set(options.responses)].map((name) => named(name, 'response'));
  const given = askedFor.filter((index) => index !== null);
  const taken = [...treatments, block, ...Object.values(others)];
  const responses =
    options.responses.length > 0 || treatment === null
      ? given
      : responseLeft(table, meant.recognition, taken, problems);
  problems.push(...usedTwice(table, treatments, block, others, given));
  if (problems.some(({ severity }) => severity === 'error')) return null;
  return treatment === null ? null : { treatments, block, ...others, responses };
}

/** The column of treatments, or both of two factors; empty where none was found. */
function treatmentColumns(
  table: DelimitedTable,
  { treatment, design }: PlotTableOptions,
  meant: Recognition,
  problems: Problem[],
): number[] {
  const factors = design?.factors ?? [];
  const found =
    factors.length > 0
      ? factors.map((name) => namedColumn(table, name, 'factor', problems))
      : [
          treatment === null
            ? treatmentByMeaning(table, meant, problems)
            : namedColumn(table, treatment, 'treatment', problems),
        ];
  return found.filter((index) => index !== null);
}

function namedColumn(
  table: DelimitedTable,
  name: string,
  role: TableRole,
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

function blockLeftOut(
  table: DelimitedTable,
  meant: Recognition,
  taken: readonly (number | null)[],
): Problem[] {
  const block = columnOf(meant, 'block');
  if (block === null || taken.includes(block.columnIndex)) return [];
  return [intakeProblem('blockNotUsed', { file: table.file, column: block.heading }, {})];
}

/** The one numeric column that nothing else takes and that is not headed like a block or a plot's number. */
function responseLeft(
  table: DelimitedTable,
  meant: Recognition,
  taken: readonly (number | null)[],
  problems: Problem[],
): number[] {
  const labels = new Set<number | null>([
    ...taken,
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
      .filter((index) => !taken.includes(index))
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
  treatments: readonly number[],
  block: number | null,
  others: Pick<Columns, 'rows' | 'columns' | 'covariate' | 'trend'>,
  responses: readonly number[],
): Problem[] {
  const [first = null, second = null] = treatments;
  const uses: readonly (readonly [string, number | null])[] = [
    [second === null ? 'treatment' : 'first factor', first],
    ['second factor', second],
    ['block', block],
    ['row', others.rows],
    ['column', others.columns],
    ['covariate', others.covariate],
    ['trend', others.trend],
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
  readonly design: Pick<DesignedPlotTable, 'rows' | 'columns' | 'factors' | 'covariate' | 'trend'>;
}

/** A response that cannot be read is named and left out; the others go on. */
function readColumns(table: DelimitedTable, columns: Columns, problems: Problem[]): Plots | null {
  const levels = (index: number | null) => (index === null ? null : levelColumn(table, index, problems));
  const treatments = columns.treatments.map(levels).filter((own) => own !== null);
  const [block, rows, across] = [levels(columns.block), levels(columns.rows), levels(columns.columns)];
  const covariate = numberColumn(table, columns.covariate, problems);
  const trend = numberColumn(table, columns.trend, problems);
  if (problems.some(({ severity }) => severity === 'error')) return null;
  const read = columns.responses.flatMap((index): ReadResponse[] => {
    const values = readDecimals(table, index, problems);
    return values === null ? [] : [{ heading: table.headings[index] ?? '', values }];
  });
  if (read.length === 0) return null;
  return {
    row: table.rowNumbers,
    treatment: combined(treatments),
    block: block?.levels ?? table.rowNumbers.map(() => null),
    columns: read,
    design: { rows, columns: across, factors: treatments.length > 1 ? treatments : [], covariate, trend },
  };
}

/** Levels of one column, or of two joined: "early, 50". */
function combined(columns: readonly LevelColumn[]): string[] {
  const [first, ...rest] = columns;
  return (first?.levels ?? []).map((level, plot) =>
    [level, ...rest.map(({ levels }) => levels[plot] ?? '')].join(', '),
  );
}

function levelColumn(table: DelimitedTable, index: number, problems: Problem[]): LevelColumn | null {
  const levels = levelsOf(table, index, problems);
  return levels === null ? null : { heading: table.headings[index] ?? '', levels };
}

function numberColumn(table: DelimitedTable, index: number | null, problems: Problem[]): NumberColumn | null {
  if (index === null) return null;
  const found = readDecimals(table, index, problems);
  if (found === null) return null;
  const values = found.deviations.map((own) => (own === null ? null : found.origin + own));
  return { heading: table.headings[index] ?? '', values };
}

function readDecimals(table: DelimitedTable, index: number, problems: Problem[]): DecimalColumn | null {
  const heading = table.headings[index] ?? '';
  const { file, rowNumbers, decimals } = table;
  const values = decimalColumn(columnCells(table, index), { file, heading, rowNumbers, decimals });
  problems.push(...values.problems);
  return values.ok ? values.value : null;
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
    const { rows, columns } = read.design;
    const key = JSON.stringify([
      treatment,
      read.block[index],
      rows?.levels[index] ?? null,
      columns?.levels[index] ?? null,
    ]);
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
    design: designOfPlots(read.design, plots),
  };
}

/** Levels are those of a plot's first row; numbers are averaged over its rows. */
function designOfPlots(design: Plots['design'], plots: readonly (readonly number[])[]): Plots['design'] {
  const levels = (column: LevelColumn): LevelColumn => ({
    ...column,
    levels: plots.map(([index = 0]) => column.levels[index] ?? ''),
  });
  const averages = (column: NumberColumn): NumberColumn => ({
    ...column,
    values: plots.map((indices) => {
      const known = indices.flatMap((index) => column.values[index] ?? []);
      return known.length === 0 ? null : known.reduce((sum, own) => sum + own, 0) / known.length;
    }),
  });
  return {
    rows: design.rows === null ? null : levels(design.rows),
    columns: design.columns === null ? null : levels(design.columns),
    factors: design.factors.map(levels),
    covariate: design.covariate === null ? null : averages(design.covariate),
    trend: design.trend === null ? null : averages(design.trend),
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
    ...columns.treatments.map((index) =>
      column('treatment', index, options.treatment !== null || columns.treatments.length > 1),
    ),
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
