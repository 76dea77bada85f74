const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;

/** With at most 15 digits both integer and power of ten are exact doubles, so one division rounds correctly. */
const MOST_DIGITS = 15;
/** So many digits make an integer of 32 bits, which is quicker than a double. */
const MOST_SHORT_DIGITS = 9;
const POWERS_OF_TEN = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, power) => Number(`1e${power}`));

/** Where reading has got to. */
export interface Cursor {
  at: number;
}

/**
 * A plain decimal number from its bytes, and the cursor on the separator or line feed behind it. NaN, and the cursor
 * left where it was, for anything else, which is then read as text with all its rules. Every line must end with a
 * line feed within the bytes.
 */
export function quickNumber(bytes: Uint8Array, cursor: Cursor, mark: number, separator: number): number {
  let at = cursor.at;
  while (bytes[at] === SPACE) at += 1;
  const isNegative = bytes[at] === MINUS;
  if (isNegative || bytes[at] === PLUS) at += 1;
  const first = at;
  let short = 0;
  let digit = bytes[at]! - ZERO;
  for (; digit >= 0 && digit <= 9; digit = bytes[at]! - ZERO) {
    short = (short * 10 + digit) | 0;
    at += 1;
  }
  let digits = at - first;
  let decimals = 0;
  if (digit === mark - ZERO && mark !== separator) {
    at += 1;
    const behindMark = at;
    for (digit = bytes[at]! - ZERO; digit >= 0 && digit <= 9; digit = bytes[at]! - ZERO) {
      short = (short * 10 + digit) | 0;
      at += 1;
    }
    decimals = at - behindMark;
    digits += decimals;
  }
  const end = at;
  while (bytes[at] === SPACE) at += 1;
  if (bytes[at] === CARRIAGE_RETURN && bytes[at + 1] === LINE_FEED) at += 1;
  const isPlain = digits > 0 && digits <= MOST_DIGITS && (bytes[at] === separator || bytes[at] === LINE_FEED);
  if (!isPlain) return Number.NaN;
  cursor.at = at;
  const integer = digits <= MOST_SHORT_DIGITS ? short : longInteger(bytes, first, end, mark);
  const value = decimals > 0 ? integer / POWERS_OF_TEN[decimals]! : integer;
  return isNegative ? -value : value;
}

/** Of all digits from one place to another, whatever the mark between them. */
function longInteger(bytes: Uint8Array, from: number, to: number, mark: number): number {
  let integer = 0;
  for (let at = from; at < to; at += 1) if (bytes[at] !== mark) integer = integer * 10 + bytes[at]! - ZERO;
  return integer;
}
