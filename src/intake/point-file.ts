import { failure, type Outcome, type Problem } from '../trial/problem.ts';
import { decodeText, unmarkedUtf16 } from './decode-text.ts';
import { type DelimitedTable, readDelimited, tableOfText } from './delimited-table.ts';
import { type FileBytes, sizeOf, stretchOf, wholeOf } from './file-bytes.ts';
import { ROWS_FOR_READING } from './number-column.ts';
import { intakeProblem } from './problem-codes.ts';

/**
 * The beginning of a large plain file as a table, by which its columns are recognised before the rest is read;
 * or, for small files and those with quotes, the whole table.
 */
export interface PointFile {
  readonly table: DelimitedTable;
  /** How much of the file the table was made from, the rest being left to the scan; null: all of it. */
  readonly headBytes: number | null;
}

const HEAD_BYTES = 256 * 1024;
const QUOTE = 34;
const LINE_FEED = 10;
/** The scan counts the rows of the whole file itself. */
const OF_THE_HEAD_ALONE: ReadonlySet<string> = new Set(['raggedRow', 'rowTooLong', 'lastLineCutOff']);

export function openPointFile(bytes: FileBytes, file: string): Outcome<PointFile> {
  const head = sizeOf(bytes) > HEAD_BYTES ? headOf(stretchOf(bytes, 0, HEAD_BYTES + 1), file) : null;
  return head ?? wholePointFile(bytes, file);
}

/** The file as one table of texts, whatever it holds. */
export function wholePointFile(bytes: FileBytes, file: string): Outcome<PointFile> {
  const whole = wholeOf(bytes);
  if (whole.includes(0) && !isWide(whole))
    return failure(intakeProblem('notText', { file }, { looksLike: 'binary' }));
  const table = readDelimited(whole, file);
  return table.ok ? { ...table, value: { table: table.value, headBytes: null } } : table;
}

function isWide(bytes: Uint8Array): boolean {
  const isMarked = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  return isMarked || unmarkedUtf16(bytes.subarray(0, HEAD_BYTES)) !== null;
}

/** null where the file is not plain enough to be scanned: quotes, UTF-16, runs of spaces, bare carriage returns, endless lines. */
function headOf(beginning: Uint8Array, file: string): Outcome<PointFile> | null {
  const cut = beginning.lastIndexOf(LINE_FEED, HEAD_BYTES) + 1;
  const head = beginning.subarray(0, cut === 0 ? HEAD_BYTES : cut);
  const decoded = decodeText(head, file);
  if (!decoded.ok) return decoded;
  if (cut === 0 || head.includes(0) || head.includes(QUOTE)) return null;
  if (/\r(?!\n)|^\uFEFF?sep=/.test(decoded.value)) return null;
  const table = tableOfText(decoded.value, file);
  if (!table.ok) return table;
  if (table.value.rows.length < ROWS_FOR_READING || table.value.separator === ' ') return null;
  const remarks: Problem[] = table.problems.filter(({ code }) => !OF_THE_HEAD_ALONE.has(code));
  return {
    ok: true,
    value: { table: table.value, headBytes: cut },
    problems: [...decoded.problems, ...remarks],
  };
}
