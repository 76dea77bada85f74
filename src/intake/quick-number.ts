const SPACE = 32;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;
const NINE = 57;

/** With at most 15 digits both integer and power of ten are exact doubles, so one division rounds correctly. */
const MOST_DIGITS = 15;
const POWERS_OF_TEN = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, power) => Number(`1e${power}`));

/** A plain decimal number from its bytes; NaN for anything else, which is then read as text with all its rules. */
export function quickNumber(bytes: Uint8Array, from: number, to: number, mark: number): number {
  let at = from;
  let end = to;
  while (at < end && bytes[at] === SPACE) at += 1;
  while (end > at && bytes[end - 1] === SPACE) end -= 1;
  const negative = bytes[at] === MINUS;
  if (at < end && (negative || bytes[at] === PLUS)) at += 1;
  let integer = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < end; at += 1) {
    const byte = bytes[at] ?? 0;
    if (byte >= ZERO && byte <= NINE) {
      integer = integer * 10 + (byte - ZERO);
      digits += 1;
      if (decimals >= 0) decimals += 1;
    } else if (byte === mark && decimals < 0) decimals = 0;
    else return Number.NaN;
  }
  if (digits === 0 || digits > MOST_DIGITS) return Number.NaN;
  const value = decimals > 0 ? integer / (POWERS_OF_TEN[decimals] ?? 1) : integer;
  return negative ? -value : value;
}
