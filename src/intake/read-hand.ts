import type { Crop } from '../trial/crops.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { HarvestFile } from '../trial/trial-document.ts';
import { mixedUnits } from './cell-units.ts';
import { readingOf } from './decimal-number.ts';
import { columnCells, type DelimitedTable, readDelimited } from './delimited-table.ts';
import type { HandHarvest, HandSample } from './harvest-data.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { levelsAlike } from './levels-alike.ts';
import { isImpossibleMoisture, moistureProblems } from './moisture-values.ts';
import { faultsOfNumbers, numberColumn } from './number-column.ts';
import { headsALabel, mostlyNumeric } from './numeric-columns.ts';
import { intakeProblem } from './problem-codes.ts';
import { type ColumnReading, columnOf, recogniseColumns } from './recognise-columns.ts';
import type { ColumnRole, RecognisedColumn } from './recognition.ts';
import { rowsTooLong } from './rows-too-long.ts';
import { unitFactor } from './unit-factor.ts';
import { yieldAnswers } from './yield-answers.ts';

/** Where the ground of the weights is known from: the table itself, or the passes of a yield monitor beside it. */
export type GroundOfWeights = 'table' | 'passes';

/**
 * A table of weights taken by hand or with a weigh wagon: one row a strip, or several rows a strip (samples in
 * it). Rows are joined to strips by the strip's name, or by treatment and block. Weights come with the area they
 * were taken from (length × width, or area); or a yield per area stands in their place.
 */
export function readHand(
  bytes: Uint8Array,
  file: string,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
  ground: GroundOfWeights = 'table',
): Outcome<HandHarvest> {
  const table = readDelimited(bytes, file);
  if (!table.ok) return table;
  const hand = handOfTable(table.value, harvestFile, crop, ground);
  return { ...hand, problems: [...table.problems, ...hand.problems] };
}

/** The same from a table that another format was brought into. */
export function handOfTable(
  table: DelimitedTable,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
  ground: GroundOfWeights = 'table',
): Outcome<HandHarvest> {
  const reading = recogniseColumns(table, 'hand', harvestFile?.columns ?? {});
  return handOfReading(table, reading, harvestFile, crop, ground);
}

function handOfReading(
  table: DelimitedTable,
  reading: ColumnReading,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
  ground: GroundOfWeights,
): Outcome<HandHarvest> {
  const others = otherColumns(table, reading);
  const problems: Problem[] = [
    ...reading.problems,
    ...rowsTooLong(table),
    ...missingColumns(table, reading, others, ground),
  ];
  if (problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  const numbers = (role: ColumnRole) => siColumn(role, table, reading, crop, problems);
  const texts = (role: ColumnRole) => textColumn(role, table, reading);
  const [strip, treatment, block] = [texts('strip'), texts('treatment'), texts('block')];
  const [weight, yieldPerHa] = [numbers('weight'), numbers('yield')];
  const area = areaColumn(numbers, table, reading, problems);
  const moisture = moistureColumn(numbers, table, reading, problems);
  const otherValues = others.map((other) => otherColumn(other, table, problems));
  if (others.length > 0) {
    const headings = others.map(({ heading }) => heading);
    problems.push(intakeProblem('otherResponsesTaken', { file: table.file }, { headings }));
  }
  problems.push(
    ...rowsWithoutStrip(strip, treatment, table),
    ...signFaults(weight, 'weight', table, reading),
  );
  if (treatment !== null) problems.push(...spellings(treatment, table, reading));
  if (problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  const samples = table.rows.map(
    (_, i): HandSample => ({
      row: table.rowNumbers[i] ?? 0,
      strip: strip?.[i] || null,
      treatment: treatment?.[i] || null,
      block: block?.[i] || null,
      weightKg: measured(weight, i),
      areaM2: measured(area, i),
      yieldKgPerHa: measured(yieldPerHa, i),
      moisturePercent: measured(moisture, i),
      others: Object.fromEntries(
        others.map(({ heading }, k) => [heading, measured(otherValues[k] ?? null, i)]),
      ),
    }),
  );
  const carrier = columnOf(reading.recognition, weight === null ? 'yield' : 'weight')?.heading ?? '';
  return success(
    {
      file: table.file ?? '',
      samples,
      otherResponses: others.map(({ heading, unit }) => ({ name: heading, unit })),
      yieldColumn: yieldAnswers(carrier, harvestFile),
      recognition: withOthers(reading, others),
    },
    problems,
  );
}

interface OtherColumn {
  readonly heading: string;
  readonly columnIndex: number;
  readonly unit: string | null;
}

function otherColumns(table: DelimitedTable, reading: ColumnReading): OtherColumn[] {
  const asked = new Set(reading.recognition.questions.flatMap(({ candidates }) => candidates));
  const used = new Set(reading.recognition.columns.map(({ columnIndex }) => columnIndex));
  return table.headings.flatMap((heading, columnIndex) => {
    if (used.has(columnIndex) || asked.has(heading) || heading === '' || headsALabel(heading)) return [];
    if (!mostlyNumeric(columnCells(table, columnIndex), table.decimals)) return [];
    return [{ heading, columnIndex, unit: takeHeadingApart(heading).unitText }];
  });
}

function withOthers(reading: ColumnReading, others: readonly OtherColumn[]) {
  const columns = others.map(
    ({ heading, columnIndex, unit }): RecognisedColumn => ({
      role: 'response',
      heading,
      columnIndex,
      unit,
      readAs: null,
      chosenByUser: false,
      assumption: null,
    }),
  );
  const taken = new Set(others.map(({ heading }) => heading));
  return {
    ...reading.recognition,
    columns: [...reading.recognition.columns, ...columns],
    unusedHeadings: reading.recognition.unusedHeadings.filter((heading) => !taken.has(heading)),
  };
}

function missingColumns(
  table: DelimitedTable,
  reading: ColumnReading,
  others: readonly OtherColumn[],
  ground: GroundOfWeights,
): Problem[] {
  const asked = new Set(reading.recognition.questions.map(({ role }) => role));
  const has = (role: ColumnRole) => columnOf(reading.recognition, role) !== null || asked.has(role);
  const place = { file: table.file };
  const { headings } = table;
  const problems: Problem[] = [];
  if (!has('strip') && !has('treatment')) problems.push(intakeProblem('noStripColumn', place, { headings }));
  if (!has('weight') && !has('yield') && others.length === 0) {
    problems.push(intakeProblem('noHarvestColumn', place, { headings }));
  }
  if (ground === 'table' && has('weight') && !has('area') && !(has('length') && has('width'))) {
    const column = columnOf(reading.recognition, 'weight')?.heading ?? null;
    problems.push(intakeProblem('weightWithoutArea', { ...place, column }, { headings }));
  }
  return problems;
}

function siColumn(
  role: ColumnRole,
  table: DelimitedTable,
  reading: ColumnReading,
  crop: Crop | null,
  problems: Problem[],
): Float64Array | null {
  const column = columnOf(reading.recognition, role);
  if (column === null) return null;
  const { factor, problems: unitProblems } = unitFactor(
    column,
    reading.units.get(role) ?? null,
    crop,
    table.file,
  );
  problems.push(...unitProblems);
  return otherColumn(column, table, problems, column.readAs).map((value) => value * factor);
}

function otherColumn(
  column: { readonly heading: string; readonly columnIndex: number },
  table: DelimitedTable,
  problems: Problem[],
  readAs: string | null = null,
): Float64Array {
  const cells = columnCells(table, column.columnIndex);
  const read = numberColumn(cells, readingOf(cells, table.decimals));
  const { file, rowNumbers } = table;
  const at = { file, heading: column.heading, rowNumbers };
  problems.push(...faultsOfNumbers(read, at), ...mixedUnits(read, readAs, at));
  return read.values;
}

function textColumn(role: ColumnRole, table: DelimitedTable, reading: ColumnReading): string[] | null {
  const column = columnOf(reading.recognition, role);
  return column === null ? null : columnCells(table, column.columnIndex).map((cell) => cell.trim());
}

type Numbers = (role: ColumnRole) => Float64Array | null;

function areaColumn(numbers: Numbers, table: DelimitedTable, reading: ColumnReading, problems: Problem[]) {
  const area = numbers('area');
  const [length, width] = [numbers('length'), numbers('width')];
  problems.push(...signFaults(area, 'area', table, reading));
  problems.push(
    ...signFaults(length, 'length', table, reading),
    ...signFaults(width, 'width', table, reading),
  );
  if (area !== null) return area;
  return length === null || width === null
    ? null
    : length.map((value, i) => value * (width[i] ?? Number.NaN));
}

/** Lengths, widths and areas must be above zero; a weight may be zero (a drowned strip) but not below. */
function signFaults(
  values: Float64Array | null,
  role: ColumnRole,
  table: DelimitedTable,
  reading: ColumnReading,
): Problem[] {
  const isBad = (value: number) => (role === 'weight' ? value < 0 : value <= 0);
  const first = values?.findIndex(isBad) ?? -1;
  if (values === null || first < 0) return [];
  const column = columnOf(reading.recognition, role)?.heading ?? null;
  const place = { file: table.file, row: table.rowNumbers[first] ?? null, column };
  return [
    intakeProblem('notPositive', place, { value: values[first] ?? null, count: values.filter(isBad).length }),
  ];
}

/** A moisture that cannot be counts as not measured, since it would turn a weight into nonsense. */
function moistureColumn(
  numbers: Numbers,
  table: DelimitedTable,
  reading: ColumnReading,
  problems: Problem[],
) {
  const moisture = numbers('moisture');
  const column = columnOf(reading.recognition, 'moisture');
  if (moisture === null || column === null) return null;
  const { file, rowNumbers } = table;
  const place = { file, rowNumbers, heading: column.heading, kept: false };
  problems.push(...moistureProblems(moisture, place, column.chosenByUser && column.unit !== null));
  return moisture.map((value) => (isImpossibleMoisture(value) ? Number.NaN : value));
}

function rowsWithoutStrip(
  strip: readonly string[] | null,
  treatment: readonly string[] | null,
  table: DelimitedTable,
): Problem[] {
  const nameless = table.rowNumbers.filter((_, i) => !strip?.[i] && !treatment?.[i]);
  const [row] = nameless;
  if (row === undefined) return [];
  return [intakeProblem('rowWithoutStrip', { file: table.file, row }, { count: nameless.length })];
}

function spellings(levels: readonly string[], table: DelimitedTable, reading: ColumnReading): Problem[] {
  const column = columnOf(reading.recognition, 'treatment')?.heading ?? null;
  return levelsAlike(levels, { file: table.file, column });
}

function measured(values: Float64Array | null, index: number): number | null {
  const value = values?.[index];
  return value === undefined || Number.isNaN(value) ? null : value;
}
