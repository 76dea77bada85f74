/// <reference path="./papaparse.d.ts" />
import Papa from 'papaparse';
import { headingLine, holdsANumber, isHeadingLike } from './heading-line.ts';

/** A space stands for runs of spaces, which are turned into tabs before the text is parsed. */
export type Separator = ',' | ';' | '\t' | '|' | ' ';

export const LINES_LOOKED_AT = 60;
/** Tab, bar and semicolon come first: in their files commas are decimals and would count as separators as well. */
const CANDIDATES: readonly Separator[] = ['\t', '|', ';', ','];
const CLEAR_SHARE = 0.9;
/** Below this, commas and semicolons are those of prose or of another format. */
const LEAST_SHARE = 0.3;

/** A text as it can be parsed by one separator. */
export interface SeparatedText {
  readonly separator: Separator;
  /** The text itself, or with tabs in place of runs of spaces, line by line. */
  readonly body: string;
  readonly delimiter: string;
}

/**
 * The separator under which most of the first lines have as many cells as the line of headings; where none does,
 * runs of spaces if every line agrees on them; else null.
 */
export function separatedText(text: string): SeparatedText | null {
  const separator = detectSeparator(text);
  if (separator !== null) return { separator, body: text, delimiter: separator };
  const run = spaceRun(text);
  if (run === null) return null;
  const body = text.replace(/^ +| +$/gm, '').replace(run, '\t');
  return { separator: ' ', body, delimiter: '\t' };
}

function detectSeparator(text: string): Exclude<Separator, ' '> | null {
  const ranked = CANDIDATES.map((separator) => ({ separator, share: agreement(text, separator) }));
  const clear = ranked.find(({ share }) => share >= CLEAR_SHARE);
  const best = clear ?? ranked.reduce((a, b) => (b.share > a.share ? b : a));
  return best.share > LEAST_SHARE ? (best.separator as Exclude<Separator, ' '>) : null;
}

/** A line of headings and rows that one separator divides, into different numbers of cells. */
export interface CellsDiffer {
  readonly separator: string;
  readonly headings: number;
  readonly cells: number;
}

/** Why a text is no table: most rows agree with one another, but not with the line of headings. null: not for that. */
export function cellsThatDiffer(text: string): CellsDiffer | null {
  for (const separator of CANDIDATES) {
    const { data } = Papa.parse(text, { delimiter: separator, newline: '\n', preview: LINES_LOOKED_AT });
    const [first, ...rows] = data.filter((cells) => cells.some((cell) => cell.trim() !== ''));
    if (first === undefined || rows.length < 2 || first.length < 2) continue;
    const cells = rows[0]!.length;
    const alike = rows.filter((row) => row.length === cells).length;
    if (cells >= 2 && cells !== first.length && alike >= CLEAR_SHARE * rows.length)
      return { separator, headings: first.length, cells };
  }
  return null;
}

/** Share of lines with as many cells as the line of headings; 0 where the separator does not split that line. */
function agreement(text: string, separator: Separator): number {
  const { data } = Papa.parse(text, { delimiter: separator, newline: '\n', preview: LINES_LOOKED_AT });
  const filled = data.filter((cells) => cells.length > 1 || (cells[0] ?? '').trim() !== '');
  const lines = filled.slice(headingLine(filled).index);
  const expected = lines[0]?.length ?? 0;
  const lastFilled = lines[0]?.findLastIndex((cell) => cell.trim() !== '') ?? -1;
  if (lastFilled < 1) return 0;
  return lines.filter((cells) => cells.length === expected).length / lines.length;
}

const LEAST_LINES = 3;
const LEAST_CELLS = 3;

/**
 * Spaces also stand inside names and times, so they divide columns only where every line looked at has the same
 * number of cells, headings above and at least one number in each row beneath. Two spaces and more go first.
 */
function spaceRun(text: string): RegExp | null {
  if (text.includes('"')) return null;
  const lines = text.slice(0, 64 * 1024).split('\n');
  if (lines.length > LEAST_LINES && text.length > 64 * 1024) lines.pop();
  const filled = lines
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .slice(0, LINES_LOOKED_AT);
  return [/ {2,}/g, / +/g].find((run) => dividesAlike(filled.map((line) => line.split(run)))) ?? null;
}

function dividesAlike(lines: readonly (readonly string[])[]): boolean {
  const [first, ...rows] = lines.slice(headingLine(lines).index);
  if (first === undefined || rows.length + 1 < LEAST_LINES || first.length < LEAST_CELLS) return false;
  return (
    isHeadingLike(first, first.length) &&
    rows.every((cells) => cells.length === first.length) &&
    rows.slice(1).every(holdsANumber)
  );
}
