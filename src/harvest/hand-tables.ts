import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { handStripFinder } from './hand-strip.ts';
import { type AskedOfHand, type HandHarvestResult, harvestHand } from './harvest-hand.ts';
import type { HandHarvestInput } from './harvest-input.ts';
import { chooseMoistureCorrection } from './moisture-correction.ts';
import type { Assumption } from './problem-codes.ts';
import type { ResponseOfStrips, StripValue } from './strip-values.ts';

/** What one table said, and its name. */
interface ReadTable {
  readonly file: string;
  readonly harvest: HandHarvestResult;
}

/** Values that lie nearer, relative to the larger, are the same value written twice. */
const SAME_VALUE = 1e-9;

/**
 * Which value does each strip have, from one or several tables of weights or samples taken by hand? Each table is read by
 * itself ({@link harvestHand}); together they may hold other responses, or other strips. Weights without any moisture take the
 * strip's moisture from a table that has it.
 *
 * Refuses with `handTablesContradict` where two tables give one strip unlike values of a response (samples of a strip belong in
 * one table, or none could tell them from a correction), and with `handUnitsDiffer` where a response has two units.
 */
export function harvestHandTables(
  trial: TrialDocument,
  tables: readonly HandHarvestInput[],
  asked: AskedOfHand = 'all',
): Outcome<HandHarvestResult> {
  const [only, ...further] = tables;
  if (only === undefined) throw new RangeError('harvestHandTables: expected at least one table, got none');
  if (further.length === 0) return harvestHand(trial, only, asked);
  const problems: Problem[] = [];
  const assumptions: Assumption[] = [];
  const read = tables.flatMap((table): ReadTable[] => {
    const { input, taken } =
      asked === 'all' ? withMoistureOfOthers(trial, table, tables) : { input: table, taken: [] };
    const harvest = harvestHand(trial, input, asked);
    // Which strips have no yield at all is told once for all tables.
    problems.push(...harvest.problems.filter(({ code }) => code !== 'handStripsWithoutYield'));
    if (!harvest.ok) return [];
    assumptions.push(...harvest.value.assumptions, ...taken);
    return [{ file: table.file, harvest: harvest.value }];
  });
  const contradictions = contradictionsOf(trial, read);
  if (contradictions.length > 0) return failure(...problems, ...contradictions);
  const responses = responsesOf(read);
  const strips = trial.strips.map((_, s) => mergedStrip(read, responses, s));
  const weighing = read.some(({ harvest }) => harvest.weighing === 'equal') ? 'equal' : 'area';
  return success({ strips, responses, weighing, assumptions }, [
    ...problems,
    ...withoutYield(strips, responses),
  ]);
}

/** Weights that are wet, or of which nobody said what they are, and that have no moisture beside them. */
function withMoistureOfOthers(
  trial: TrialDocument,
  table: HandHarvestInput,
  tables: readonly HandHarvestInput[],
): { readonly input: HandHarvestInput; readonly taken: readonly Assumption[] } {
  const asIs = { input: table, taken: [] };
  const { correction } = chooseMoistureCorrection(
    table.file,
    table.yieldColumn,
    true,
    trial.standardMoisturePercent,
  );
  const hasYield = table.samples.some(({ weightKg, yieldKgPerHa }) => (weightKg ?? yieldKgPerHa) !== null);
  if (!hasYield || correction.kind !== 'byPoint' || hasMoisture(table)) return asIs;
  const other = tables.find(hasMoisture);
  const measured = other === undefined ? null : harvestHand(trial, other);
  if (other === undefined || measured === null || !measured.ok) return asIs;
  const moisture = new Map(
    measured.value.strips.map(({ strip, values }) => [strip, values.moisture ?? null]),
  );
  const findStrip = handStripFinder(trial, table.file);
  const samples = table.samples.map((sample) => {
    const strip = findStrip(sample);
    return 'code' in strip ? sample : { ...sample, moisturePercent: moisture.get(strip.id) ?? null };
  });
  const details = { file: table.file, from: other.file };
  return { input: { ...table, samples }, taken: [{ code: 'handMoistureFromOther', details }] };
}

function hasMoisture({ samples }: HandHarvestInput): boolean {
  return samples.some(({ moisturePercent }) => moisturePercent !== null);
}

function contradictionsOf(trial: TrialDocument, read: readonly ReadTable[]): Problem[] {
  return read.flatMap((table, t) =>
    table.harvest.responses.flatMap(({ name, unit }): Problem[] => {
      const place = { file: table.file };
      const before = read.slice(0, t);
      const otherUnit = before.find(({ harvest }) =>
        harvest.responses.some((own) => own.name === name && own.unit !== unit),
      );
      if (otherUnit !== undefined)
        return [problem('error', 'handUnitsDiffer', place, { response: name, first: otherUnit.file })];
      return before.flatMap(({ file, harvest }) => {
        const strips = trial.strips.flatMap(({ id }, s) =>
          isUnlike(valueIn(harvest, s, name), valueIn(table.harvest, s, name)) ? [id] : [],
        );
        if (strips.length === 0) return [];
        const details = { response: name, first: file, strips, count: strips.length };
        return [problem('error', 'handTablesContradict', place, details)];
      });
    }),
  );
}

function isUnlike(a: number | null, b: number | null): boolean {
  return a !== null && b !== null && Math.abs(a - b) > SAME_VALUE * Math.max(Math.abs(a), Math.abs(b));
}

function valueIn({ strips }: HandHarvestResult, strip: number, response: string): number | null {
  return strips[strip]?.values[response] ?? null;
}

const FIRST_RESPONSES = ['yield', 'moisture'];

/** Yield and moisture first, then the others in the order of the tables. */
function responsesOf(read: readonly ReadTable[]): readonly ResponseOfStrips[] {
  const all = new Map(
    read.flatMap(({ harvest }) => harvest.responses.map((response) => [response.name, response] as const)),
  );
  const own = FIRST_RESPONSES.flatMap((name) => all.get(name) ?? []);
  return [...own, ...[...all.values()].filter(({ name }) => !FIRST_RESPONSES.includes(name))];
}

/** Samples, ground and spread are those of the table that gave the yield; without a yield, of the first that knows the strip. */
function mergedStrip(
  read: readonly ReadTable[],
  responses: readonly ResponseOfStrips[],
  s: number,
): StripValue {
  const own = read.flatMap(({ harvest }) => harvest.strips[s] ?? []);
  const main =
    own.find(({ values }) => (values.yield ?? null) !== null) ??
    own.find(({ subSamples }) => (subSamples ?? 0) > 0) ??
    own[0]!;
  const first = (name: string) =>
    own.map(({ values }) => values[name] ?? null).find((value) => value !== null);
  return { ...main, values: Object.fromEntries(responses.map(({ name }) => [name, first(name) ?? null])) };
}

function withoutYield(strips: readonly StripValue[], responses: readonly ResponseOfStrips[]): Problem[] {
  if (responses.every(({ quantity }) => quantity !== 'yield')) return [];
  const lacking = strips.flatMap(({ strip, values }) => (values.yield === null ? [strip] : []));
  if (lacking.length === 0) return [];
  return [problem('warning', 'handStripsWithoutYield', {}, { strips: lacking, count: lacking.length })];
}
