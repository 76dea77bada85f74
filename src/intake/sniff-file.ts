import { type Outcome, success } from '../trial/problem.ts';
import { TRIAL_FORMAT } from '../trial/trial-document.ts';
import { decodeText } from './decode-text.ts';
import { type DelimitedTable, tableOfText } from './delimited-table.ts';
import { parseJsonText } from './json-text.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, recogniseColumns, type TableKind } from './recognise-columns.ts';
import type { ColumnRole } from './recognition.ts';

export type FileKind = 'trial' | 'layout' | 'points' | 'hand';

/** What a dropped file is, by its content: our trial document, a layout, a table with positions, or one without. */
export function sniffFile(bytes: Uint8Array, file: string): Outcome<FileKind> {
  const decoded = decodeText(bytes, file);
  if (!decoded.ok) return decoded;
  const text = decoded.value.replace(/^\uFEFF/, '').trimStart();
  if (text.startsWith('{') || text.startsWith('[')) return kindOfJson(decoded.value, file);
  return kindOfTable(text, file);
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

const CHARACTERS_LOOKED_AT = 64 * 1024;

function kindOfTable(text: string, file: string): Outcome<FileKind> {
  const cut = text.length > CHARACTERS_LOOKED_AT ? text.lastIndexOf('\n', CHARACTERS_LOOKED_AT) : text.length;
  const table = tableOfText(text.slice(0, cut < 0 ? CHARACTERS_LOOKED_AT : cut), file);
  if (!table.ok) return table;
  return success(kindOfColumns(table.value));
}

/** A table with positions holds points; with treatments and nothing harvested, the corners of a layout. */
export function kindOfColumns(table: DelimitedTable): FileKind {
  const has = rolesIn(table, 'points');
  if (!has('longitude') || !has('latitude')) return 'hand';
  const isHarvest = has('yield') || has('massFlow') || has('mass');
  return !isHarvest && rolesIn(table, 'table')('treatment') ? 'layout' : 'points';
}

function rolesIn(table: DelimitedTable, kind: TableKind): (role: ColumnRole) => boolean {
  const { recognition } = recogniseColumns(table, kind, {});
  const asked = new Set(recognition.questions.map(({ role }) => role));
  return (role) => columnOf(recognition, role) !== null || asked.has(role);
}

/** Feature after feature a point: a harvest. Anything else is taken for a layout. */
function mostArePoints(json: unknown): boolean {
  const { type, features } = (json ?? {}) as { type?: unknown; features?: unknown };
  if (type !== 'FeatureCollection' || !Array.isArray(features) || features.length === 0) return false;
  const points = features.filter((feature: { geometry?: { type?: unknown } | null } | null) =>
    ['Point', 'MultiPoint'].includes(String(feature?.geometry?.type)),
  );
  return points.length * 2 > features.length;
}
