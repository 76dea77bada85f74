/** A millimetre at the equator; nobody clicks finer. */
const DECIMALS = 8;

/** Degrees with a decimal point or comma; null where it is no number. */
export function degreesRead(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return /^[+-]?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

export function degreesShown(degrees: number): string {
  return String(Number(degrees.toFixed(DECIMALS)));
}
