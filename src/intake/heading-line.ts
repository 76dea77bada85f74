import { type DecimalReading, readDecimal } from './decimal-number.ts';

/** Which line of a table holds the headings, as an index into its filled lines. */
export interface HeadingLine {
  readonly index: number;
  /** The headings stand in a comment; its mark is to be taken off. */
  readonly inComment: boolean;
}

type Cells = readonly string[];

const MOST_LINES_ABOVE = 40;
const COMMENT = /^\s*(?:#|\/\/|%)+\s*/;
const PLAIN: DecimalReading = { mark: '.', proven: false };

/**
 * Comments and titles may stand above the headings: lines with far fewer cells than the table has. They are passed
 * over only where a line of words with a row of figures beneath follows; else the first line holds the headings.
 */
export function headingLine(lines: readonly Cells[]): HeadingLine {
  const usual = usualCells(lines);
  const first = { index: 0, inComment: false };
  if (usual < 2) return first;
  let index = 0;
  const last = Math.min(MOST_LINES_ABOVE, lines.length - 2);
  while (index <= last && (isComment(lines[index]) || isTitle(lines[index], usual))) index += 1;
  if (index === 0) return first;
  if (isHeadingLike(lines[index], usual) && lines.slice(index + 1, index + 4).some(holdsANumber)) {
    return { index, inComment: false };
  }
  const above = lines[index - 1];
  if (isComment(above) && isHeadingLike(withoutCommentMark(above ?? []), usual) && isFull(above, usual)) {
    return { index: index - 1, inComment: (above?.[0] ?? '').replace(COMMENT, '') !== '' };
  }
  return lines.slice(0, index).every(isComment) ? { index, inComment: false } : first;
}

export function withoutCommentMark(cells: Cells): string[] {
  return cells.map((cell, index) => (index === 0 ? cell.replace(COMMENT, '') || cell : cell));
}

/** Words alone, in at least half of the columns. */
export function isHeadingLike(cells: Cells | undefined, usual: number): boolean {
  const filled = (cells ?? []).filter((cell) => cell.trim() !== '');
  if (filled.length < 2 || filled.length * 2 < usual) return false;
  return filled.every((cell) => readDecimal(cell, PLAIN).kind === 'notANumber');
}

export function holdsANumber(cells: Cells): boolean {
  return cells.some((cell) => !['notANumber', 'lost'].includes(readDecimal(cell, PLAIN).kind));
}

function isComment(cells: Cells | undefined): boolean {
  return COMMENT.test(cells?.[0] ?? '');
}

function isFull(cells: Cells | undefined, usual: number): boolean {
  return filledCells(cells) === usual || cells?.length === usual;
}

function isTitle(cells: Cells | undefined, usual: number): boolean {
  const filled = filledCells(cells);
  return usual === 2 ? filled < 2 : filled <= Math.max(2, usual / 3) && filled < usual;
}

function filledCells(cells: Cells | undefined): number {
  return (cells ?? []).filter((cell) => cell.trim() !== '').length;
}

/** The commonest number of cells, blank ones at the end not counted; of equals the one met first. */
function usualCells(lines: readonly Cells[]): number {
  const counts = new Map<number, number>();
  for (const cells of lines) {
    const length = cells.findLastIndex((cell) => cell.trim() !== '') + 1;
    counts.set(length, (counts.get(length) ?? 0) + 1);
  }
  let usual = 0;
  for (const [length, count] of counts) {
    if (length >= 2 && count > (counts.get(usual) ?? 0)) usual = length;
  }
  return usual;
}
