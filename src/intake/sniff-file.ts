import { type Outcome, success } from '../trial/problem.ts';
import { TRIAL_FORMAT } from '../trial/trial-document.ts';
import { decodeText } from './decode-text.ts';
import { tableOfText } from './delimited-table.ts';
import { parseJsonText } from './json-text.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf, recogniseColumns } from './recognise-columns.ts';
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
  if (type === 'FeatureCollection' || type === 'Feature') return success('layout');
  const shown = typeof type === 'string' ? type.slice(0, 60) : null;
  return { ok: false, problems: [intakeProblem('notGeoJson', { file }, { type: shown })] };
}

const CHARACTERS_LOOKED_AT = 64 * 1024;

function kindOfTable(text: string, file: string): Outcome<FileKind> {
  const cut = text.length > CHARACTERS_LOOKED_AT ? text.lastIndexOf('\n', CHARACTERS_LOOKED_AT) : text.length;
  const table = tableOfText(text.slice(0, cut < 0 ? CHARACTERS_LOOKED_AT : cut), file);
  if (!table.ok) return table;
  const { recognition } = recogniseColumns(table.value, 'points', {});
  const asked = new Set(recognition.questions.map(({ role }) => role));
  const has = (role: ColumnRole) => columnOf(recognition, role) !== null || asked.has(role);
  return success(has('longitude') && has('latitude') ? 'points' : 'hand');
}
