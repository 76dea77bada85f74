import { failure, type Outcome, type Problem } from '../trial/problem.ts';
import { decodeText, unmarkedUtf16 } from './decode-text.ts';
import { type DelimitedTable, readDelimited, tableOfText } from './delimited-table.ts';
import { ROWS_FOR_READING } from './number-column.ts';
import { intakeProblem } from './problem-codes.ts';

/**
 * The beginning of a large plain file as a table, by which its columns are recognised before the rest is read;
 * or, for small files and those with quotes, the whole table.
 */
export interface PointFile {
  readonly table: DelimitedTable;
  /** The rest must be read from the bytes. */
  readonly isHead: boolean;
}

const HEAD_BYTES = 256 * 1024;
const QUOTE = 34;
const LINE_FEED = 10;
/** The scan counts the rows of the whole file itself. */
const OF_THE_HEAD_ALONE: ReadonlySet<string> = new Set(['raggedRow', 'rowTooLong', 'lastLineCutOff']);

export function openPointFile(bytes: Uint8Array, file: string): Outcome<PointFile> {
  const head = bytes.length > HEAD_BYTES ? headOf(bytes, file) : null;
  if (head !== null) return head;
  const table = readDelimited(bytes, file);
  return table.ok ? { ...table, value: { table: table.value, isHead: false } } : table;
}

/** null where the file is not plain enough to be scanned: quotes, UTF-16, runs of spaces, bare carriage returns, endless lines. */
function headOf(bytes: Uint8Array, file: string): Outcome<PointFile> | null {
  const cut = bytes.lastIndexOf(LINE_FEED, HEAD_BYTES) + 1;
  const decoded = decodeText(bytes.subarray(0, cut === 0 ? HEAD_BYTES : cut), file);
  if (!decoded.ok) return decoded;
  if (bytes.includes(0)) {
    const isMarked = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
    return isMarked || unmarkedUtf16(bytes.subarray(0, HEAD_BYTES)) !== null
      ? null
      : failure(intakeProblem('notText', { file }, { looksLike: 'binary' }));
  }
  if (cut === 0 || bytes.includes(QUOTE) || /\r(?!\n)|^\uFEFF?sep=/.test(decoded.value)) return null;
  const table = tableOfText(decoded.value, file);
  if (!table.ok) return table;
  if (table.value.rows.length < ROWS_FOR_READING || table.value.separator === ' ') return null;
  const remarks: Problem[] = table.problems.filter(({ code }) => !OF_THE_HEAD_ALONE.has(code));
  return {
    ok: true,
    value: { table: table.value, isHead: true },
    problems: [...decoded.problems, ...remarks],
  };
}
