const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;

/** With at most 15 digits both integer and power of ten are exact doubles, so one division rounds correctly. */
const MOST_DIGITS = 15;
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
  let integer = 0;
  let digit = bytes[at]! - ZERO;
  for (; digit >= 0 && digit <= 9; digit = bytes[at]! - ZERO) {
    integer = integer * 10 + digit;
    at += 1;
  }
  let digits = at - first;
  let decimals = 0;
  if (digit === mark - ZERO && mark !== separator) {
    at += 1;
    const behindMark = at;
    for (digit = bytes[at]! - ZERO; digit >= 0 && digit <= 9; digit = bytes[at]! - ZERO) {
      integer = integer * 10 + digit;
      at += 1;
    }
    decimals = at - behindMark;
    digits += decimals;
  }
  while (bytes[at] === SPACE) at += 1;
  if (bytes[at] === CARRIAGE_RETURN && bytes[at + 1] === LINE_FEED) at += 1;
  const isPlain = digits > 0 && digits <= MOST_DIGITS && (bytes[at] === separator || bytes[at] === LINE_FEED);
  if (!isPlain) return Number.NaN;
  cursor.at = at;
  const value = decimals > 0 ? integer / POWERS_OF_TEN[decimals]! : integer;
  return isNegative ? -value : value;
}
