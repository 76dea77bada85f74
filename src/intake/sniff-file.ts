import { type Outcome, success } from '../trial/problem.ts';
import { TRIAL_FORMAT } from '../trial/trial-document.ts';
import { decodeText } from './decode-text.ts';
import { type DelimitedTable, tableOfText } from './delimited-table.ts';
import { type FileBytes, sizeOf, stretchOf, wholeOf } from './file-bytes.ts';
import { parseJsonText } from './json-text.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, recogniseColumns, type TableKind } from './recognise-columns.ts';
import type { ColumnRole } from './recognition.ts';
import { isStripList } from './strip-list.ts';

export type FileKind = 'trial' | 'layout' | 'points' | 'hand' | 'application';

/** What a dropped file is, by its content: our trial document, a layout, a table with positions, or one without. */
export function sniffFile(bytes: FileBytes, file: string): Outcome<FileKind> {
  const head = headOf(bytes);
  const decoded = decodeText(head, file);
  if (!decoded.ok) return decoded;
  const text = decoded.value.replace(/^\uFEFF/, '').trimStart();
  if (!(text.startsWith('{') || text.startsWith('['))) return kindOfTable(text, file);
  const whole = head.length < sizeOf(bytes) ? decodeText(wholeOf(bytes), file) : decoded;
  return whole.ok ? kindOfJson(whole.value, file) : whole;
}

function kindOfJson(text: string, file: string): Outcome<FileKind> {
  const json = parseJsonText(text, file);
  if (!json.ok) return json;
  const { format, type } = (json.value ?? {}) as { format?: unknown; type?: unknown };
  if (format === TRIAL_FORMAT) return success('trial');
  if (mostArePoints(json.value)) return success('points');
  if (type === 'FeatureCollection' || type === 'Feature') return success('layout');
  const shown = typeof type === 'string' ? type.slice(0, 60) : null;
  return { ok: false, problems: [intakeProblem('notGeoJson', { file }, { type: shown })] };
}

/** Enough for the lines that a table is told by; the reader looks at the rest, and names what is wrong with it. */
const HEAD_BYTES = 1024 * 1024;
const LINE_FEED = 10;

/** Up to a line's end, so that no letter of several bytes is cut; a file without any is taken whole. */
function headOf(bytes: FileBytes): Uint8Array {
  const head = stretchOf(bytes, 0, HEAD_BYTES);
  if (sizeOf(bytes) <= HEAD_BYTES) return head;
  const cut = isWide(head) ? -1 : head.lastIndexOf(LINE_FEED);
  return cut < 0 ? wholeOf(bytes) : head.subarray(0, cut + 1);
}

/** UTF-16, where a byte of 10 need not be a line's end. */
function isWide(bytes: Uint8Array): boolean {
  return bytes.subarray(0, 8192).includes(0) || bytes[0] === 0xff || bytes[0] === 0xfe;
}

const CHARACTERS_LOOKED_AT = 64 * 1024;

function kindOfTable(text: string, file: string): Outcome<FileKind> {
  const cut = text.length > CHARACTERS_LOOKED_AT ? text.lastIndexOf('\n', CHARACTERS_LOOKED_AT) : text.length;
  const table = tableOfText(text.slice(0, cut < 0 ? CHARACTERS_LOOKED_AT : cut), file);
  if (!table.ok) return table;
  return success(kindOfColumns(table.value));
}

/**
 * A table with positions holds points; with a rate per area, or a flow, and nothing harvested, a log of what was put out; with
 * treatments and nothing harvested, the corners of a layout. Without positions it holds weights, or it lists strips.
 */
export function kindOfColumns(table: DelimitedTable): FileKind {
  const has = rolesIn(table, 'points');
  if (!has('longitude') || !has('latitude')) return isStripList(table) ? 'layout' : 'hand';
  const isHarvest = has('yield') || has('massFlow') || has('mass');
  if (isHarvest) return 'points';
  const { units } = recogniseColumns(table, 'applicationByFlow', {});
  if (units.has('appliedRate') || units.has('appliedFlow')) return 'application';
  return rolesIn(table, 'table')('treatment') ? 'layout' : 'points';
}

function rolesIn(table: DelimitedTable, kind: TableKind): (role: ColumnRole) => boolean {
  const { recognition } = recogniseColumns(table, kind, {});
  const asked = new Set(recognition.questions.map(({ role }) => role));
  return (role) => columnOf(recognition, role) !== null || asked.has(role);
}

/** Feature after feature a point: a harvest. Anything else is taken for a layout. */
export function mostArePoints(json: unknown): boolean {
  const { type, features } = (json ?? {}) as { type?: unknown; features?: unknown };
  if (type !== 'FeatureCollection' || !Array.isArray(features) || features.length === 0) return false;
  const points = features.filter((feature: { geometry?: { type?: unknown } | null } | null) =>
    ['Point', 'MultiPoint'].includes(String(feature?.geometry?.type)),
  );
  return points.length * 2 > features.length;
}
