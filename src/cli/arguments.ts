import { parseArgs } from 'node:util';
import { type Outcome, success } from '../trial/problem.ts';
import { DECIDING_PROCEDURES, type DecidingProcedure } from '../trial/trial-document.ts';
import { DESIGN_OPTION_NAMES, DESIGN_OPTIONS, type DesignRequest, designRequest } from './design-options.ts';
import { firstSentence, wrong } from './wrong-arguments.ts';

/** What `stripverdict answer` was asked, once its words have been understood. */
export interface AnswerRequest {
  readonly trialFile: string | null;
  readonly layoutFile: string | null;
  readonly harvestFiles: readonly string[];
  /** Logs of what was put out, whatever else they might pass for. */
  readonly appliedFiles: readonly string[];
  /** Of areas to leave out. */
  readonly areaFiles: readonly string[];
  readonly settings: readonly { readonly path: string; readonly value: unknown }[];
  readonly table: TableRequest | null;
  readonly asJson: boolean;
  readonly outFolder: string | null;
  /** Try all cleanings, however many points there are. */
  readonly cleanings: boolean;
}

export interface TableRequest extends DesignRequest {
  readonly file: string;
  readonly treatment: string | null;
  readonly block: string | null;
  readonly responses: readonly string[];
  readonly unit: string | null;
  readonly check: string | null;
  readonly alpha: number | null;
  readonly margin: number | null;
  readonly better: 'higher' | 'lower';
  readonly compare: DecidingProcedure;
  readonly subsamples: boolean;
}

const ANSWER_OPTIONS = {
  layout: { type: 'string' },
  harvest: { type: 'string', multiple: true },
  applied: { type: 'string', multiple: true },
  'leave-out': { type: 'string', multiple: true },
  set: { type: 'string', multiple: true },
  table: { type: 'string' },
  treatment: { type: 'string' },
  block: { type: 'string' },
  response: { type: 'string', multiple: true },
  unit: { type: 'string' },
  check: { type: 'string' },
  alpha: { type: 'string' },
  margin: { type: 'string' },
  better: { type: 'string' },
  compare: { type: 'string' },
  subsamples: { type: 'boolean' },
  ...DESIGN_OPTIONS,
  json: { type: 'boolean' },
  out: { type: 'string' },
  cleanings: { type: 'boolean' },
} as const;

const TABLE_ONLY = [
  'treatment',
  'block',
  'response',
  'unit',
  'check',
  'alpha',
  'margin',
  'better',
  'compare',
  'subsamples',
  ...DESIGN_OPTION_NAMES,
] as const;

type Values = ReturnType<typeof parse>['values'];

export function answerRequest(words: readonly string[]): Outcome<AnswerRequest> {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(words);
  } catch (error) {
    return wrong(firstSentence(error));
  }
  const { values, positionals } = parsed;
  if (positionals.length > 1)
    return wrong(`one trial document is taken at a time, got ${positionals.length}`);
  const misplaced = misplacedOption(values, positionals.length);
  if (misplaced !== null) return wrong(misplaced);
  const table = tableRequest(values);
  if (!table.ok) return table;
  const settings = settingsOf(values.set ?? []);
  if (!settings.ok) return settings;
  return success({
    trialFile: positionals[0] ?? null,
    layoutFile: values.layout ?? null,
    harvestFiles: values.harvest ?? [],
    appliedFiles: values.applied ?? [],
    areaFiles: values['leave-out'] ?? [],
    settings: settings.value,
    table: table.value,
    asJson: values.json ?? false,
    outFolder: values.out ?? null,
    cleanings: values.cleanings ?? false,
  });
}

/** Even when the words cannot be understood, a wish for JSON is honoured. */
export function asksForJson(words: readonly string[]): boolean {
  return words.includes('--json');
}

function parse(words: readonly string[]) {
  return parseArgs({ args: [...words], options: ANSWER_OPTIONS, allowPositionals: true, strict: true });
}

function misplacedOption(values: Values, positionals: number): string | null {
  if (values.table === undefined) {
    const tableOption = TABLE_ONLY.find((name) => values[name] !== undefined);
    if (tableOption !== undefined)
      return `--${tableOption} goes with --table; a trial document is changed by --set path=value`;
    const nothing = positionals === 0 && values.layout === undefined;
    return nothing
      ? 'nothing to analyse: name a trial document, or --layout with --harvest, or --table'
      : null;
  }
  if (positionals > 0) return 'name either a trial document or --table, not both';
  const trialOption = (['layout', 'harvest', 'applied', 'leave-out', 'set'] as const).find(
    (name) => values[name] !== undefined,
  );
  return trialOption === undefined ? null : `--${trialOption} does not go with --table`;
}

function tableRequest(values: Values): Outcome<TableRequest | null> {
  if (values.table === undefined) return success(null);
  const alpha = numberOf('alpha', values.alpha, (x) => x > 0 && x <= 0.5, 'above 0 and at most 0.5');
  if (!alpha.ok) return alpha;
  const margin = numberOf('margin', values.margin, (x) => x > 0, 'above 0');
  if (!margin.ok) return margin;
  const compare = compareOf(values.compare);
  if (!compare.ok) return compare;
  const design = designRequest(values);
  if (!design.ok) return design;
  const better = values.better ?? 'higher';
  if (better !== 'higher' && better !== 'lower')
    return wrong(`--better takes higher or lower, got ${better}`);
  return success({
    file: values.table,
    treatment: values.treatment ?? null,
    block: values.block ?? null,
    responses: values.response ?? [],
    unit: values.unit ?? null,
    check: values.check ?? null,
    alpha: alpha.value,
    margin: margin.value,
    better,
    compare: compare.value,
    subsamples: values.subsamples ?? false,
    ...design.value,
  });
}

function compareOf(text: string | undefined): Outcome<DecidingProcedure> {
  if (text === undefined) return success('auto');
  const wanted = text === 'protected-lsd' ? 'protectedLsd' : text;
  const found = DECIDING_PROCEDURES.find((name) => name === wanted);
  if (found !== undefined) return success(found);
  const names = DECIDING_PROCEDURES.map((name) => (name === 'protectedLsd' ? 'protected-lsd' : name));
  return wrong(`--compare takes one of ${names.join(', ')}; got ${text}`);
}

export function numberOf(
  name: string,
  text: string | undefined,
  fits: (value: number) => boolean,
  range: string,
): Outcome<number | null> {
  if (text === undefined) return success(null);
  const value = text.trim() === '' ? Number.NaN : Number(text);
  return Number.isFinite(value) && fits(value)
    ? success(value)
    : wrong(`--${name} takes a number ${range}, got "${text}"`);
}

function settingsOf(texts: readonly string[]): Outcome<AnswerRequest['settings']> {
  const settings: { path: string; value: unknown }[] = [];
  for (const text of texts) {
    const cut = text.indexOf('=');
    if (cut < 1) return wrong(`--set takes path=value, got "${text}"`);
    settings.push({ path: text.slice(0, cut), value: jsonOrText(text.slice(cut + 1)) });
  }
  return success(settings);
}

/** `0.1`, `true`, `null` and `"a text"` are read as JSON; anything else is the text itself. */
function jsonOrText(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}
