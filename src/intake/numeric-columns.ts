import { type DecimalReading, readDecimal } from './decimal-number.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { LABEL_WORDS } from './quantity-words.ts';

/** Whether a column is meant to be numeric: numbers in at least half of its filled cells (a typing slip hides none). */
export function mostlyNumeric(cells: readonly string[], ofFile: DecimalReading): boolean {
  const kinds = cells.map((cell) => readDecimal(cell, ofFile).kind);
  const filled = kinds.filter((kind) => kind !== 'lost').length;
  const numbers = kinds.filter((kind) => kind !== 'lost' && kind !== 'notANumber').length;
  return numbers > 0 && numbers * 2 >= filled;
}

/** A number that counts, dates or places something (sample 1, 2, 3; a year) is no response; plants per row are one. */
export function headsALabel(heading: string): boolean {
  const { words } = takeHeadingApart(heading);
  return words.some((word, index) => LABEL_WORDS.has(word) && words[index - 1] !== 'per');
}
