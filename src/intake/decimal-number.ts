export type DecimalMark = '.' | ',';

/** How a column writes its decimals, and whether some cell of it or of its file proves that. */
export interface DecimalReading {
  readonly mark: DecimalMark;
  readonly proven: boolean;
}

/** What a cell says: a number as canonical decimal text, a lost plot, or why it is neither. */
export type DecimalCell =
  | { readonly kind: 'number'; readonly text: string }
  | { readonly kind: 'lost' }
  | { readonly kind: 'ambiguous' }
  | { readonly kind: 'otherMark' }
  | { readonly kind: 'notANumber' };

/** A number hundreds of digits long, or so large that its square is no double any more, is a slip. */
const LONGEST_NUMBER = 400;
const LARGEST_NUMBER = 1e150;
const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/;
const ANY_SPACE_OR_APOSTROPHE = /^([+-]?\d{1,3}(?:[ '’\u00A0\u2009\u202F]\d{3})+)((?:[.,]\d*)?)$/;
const LOST: ReadonlySet<string> = new Set(['', 'na', '.']);

/**
 * Reads one cell. Thousands separators are taken only where they cannot be decimals: spaces and apostrophes
 * between groups of three, or the other mark where the decimal mark is proven.
 */
export function readDecimal(cell: string, reading: DecimalReading): DecimalCell {
  const text = cell.trim().replace('\u2212', '-');
  if (LOST.has(text.toLowerCase())) return { kind: 'lost' };
  if (text.length > LONGEST_NUMBER) return { kind: 'notANumber' };
  if (reading.mark === '.' && PLAIN.test(text)) return numberOrNot(text);
  return readMarked(withoutGroupSpaces(text), reading);
}

/** "12 345,6" and "12'345.6" without their spaces and apostrophes, which are never decimals. */
function withoutGroupSpaces(text: string): string {
  const spaced = ANY_SPACE_OR_APOSTROPHE.exec(text);
  return spaced === null ? text : `${(spaced[1] ?? '').replace(/[^\d+-]/g, '')}${spaced[2] ?? ''}`;
}

function readMarked(text: string, { mark, proven }: DecimalReading): DecimalCell {
  const other = mark === '.' ? ',' : '.';
  if (!text.includes(other)) return numberOrNot(text.replace(mark, '.'));
  if (provesMark(text) === mark) return numberOrNot(text.replaceAll(other, '').replace(mark, '.'));
  if (isSingleGroup(text, other)) {
    return proven ? numberOrNot(text.replace(other, '')) : { kind: 'ambiguous' };
  }
  return PLAIN.test(text.replace(other, '.')) ? { kind: 'otherMark' } : { kind: 'notANumber' };
}

function numberOrNot(text: string): DecimalCell {
  if (!PLAIN.test(text)) return { kind: 'notANumber' };
  return Math.abs(Number(text)) <= LARGEST_NUMBER ? { kind: 'number', text } : { kind: 'notANumber' };
}

/** "1,234": one separator with one to three digits before it, not a leading zero, and three behind. */
function isSingleGroup(text: string, separator: DecimalMark): boolean {
  return (separator === ',' ? /^[+-]?[1-9]\d{0,2},\d{3}$/ : /^[+-]?[1-9]\d{0,2}\.\d{3}$/).test(text);
}

const GROUPED = {
  '.': /^[+-]?[1-9]\d{0,2}(?:(?:,\d{3}){2,}(?:\.\d*)?|,\d{3}\.\d*)$/,
  ',': /^[+-]?[1-9]\d{0,2}(?:(?:\.\d{3}){2,}(?:,\d*)?|\.\d{3},\d*)$/,
} as const;
const SINGLE = {
  '.': /^[+-]?\d*\.\d+(?:[eE][+-]?\d+)?$/,
  ',': /^[+-]?\d*,\d+(?:[eE][+-]?\d+)?$/,
} as const;

/** The decimal mark that this cell alone proves, or null: "12.5", "0.125", "1,234.5" and "1,234,567" prove the point. */
export function provesMark(cell: string): DecimalMark | null {
  if (!cell.includes('.') && !cell.includes(',')) return null;
  const text = withoutGroupSpaces(cell.trim().replace('\u2212', '-'));
  for (const mark of ['.', ','] as const) {
    if (GROUPED[mark].test(text)) return mark;
    if (SINGLE[mark].test(text) && !isSingleGroup(text, mark)) return mark;
  }
  return null;
}

/**
 * The reading of one column: by its own cells, else by the file's, else by the separator: a semicolon stands
 * where the comma is the decimal mark. Files that prove nothing stay unproven.
 */
export function readingOf(cells: Iterable<string>, ofFile: DecimalReading): DecimalReading {
  let points = 0;
  let commas = 0;
  for (const cell of cells) {
    const mark = provesMark(cell);
    if (mark === '.') points += 1;
    if (mark === ',') commas += 1;
  }
  if (points === 0 && commas === 0) return ofFile;
  return { mark: commas > points ? ',' : '.', proven: points === 0 || commas === 0 };
}
