import { failure, type Outcome, success } from '../trial/problem.ts';
import { type FileBytes, stretchOf } from './file-bytes.ts';
import { intakeProblem } from './problem-codes.ts';

/** JSON, or the line where it stops being JSON as far as the engine tells. */
export function parseJsonText(text: string, file: string | null): Outcome<unknown> {
  if (text.trim() === '') return failure(intakeProblem('emptyFile', { file }, {}));
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text;
  try {
    return success(JSON.parse(plain));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return failure(
      intakeProblem('notJson', { file, row: lineOf(reason, plain) }, { reason: reason.slice(0, 200) }),
    );
  }
}

/** Engines name either a position ("at position 17") or a line ("line 2 column 5"), or only the end of the input. */
function lineOf(reason: string, text: string): number | null {
  const line = /line (\d+)/.exec(reason)?.[1];
  if (line !== undefined) return Number(line);
  const position = /position (\d+)/.exec(reason)?.[1];
  const atEnd = /end of (?:JSON )?input|Unterminated/i.test(reason);
  if (position === undefined && !atEnd) return null;
  return text.slice(0, position === undefined ? text.length : Number(position)).split(/\r\n?|\n/).length;
}

/** Whether the first letter is one with which no table begins. */
export function startsLikeJson(bytes: FileBytes): boolean {
  const first = stretchOf(bytes, 0, 1000).find(
    (byte) => byte > 32 && ![0xef, 0xbb, 0xbf, 0xfe, 0xff].includes(byte),
  );
  return first === 0x7b || first === 0x5b;
}
