/// <reference path="./papaparse.d.ts" />
import Papa from 'papaparse';

export type Separator = ',' | ';' | '\t';

const LINES_LOOKED_AT = 60;
/** Tab and semicolon come first: in their files commas are decimals and would count as separators as well. */
const CANDIDATES: readonly Separator[] = ['\t', ';', ','];
const CLEAR_SHARE = 0.9;
/** Below this, commas and semicolons are those of prose or of another format. */
const LEAST_SHARE = 0.3;

/** The separator under which most of the first lines have as many cells as the first one; null where none does. */
export function detectSeparator(text: string): Separator | null {
  const ranked = CANDIDATES.map((separator) => ({ separator, share: agreement(text, separator) }));
  const clear = ranked.find(({ share }) => share >= CLEAR_SHARE);
  const best = clear ?? ranked.reduce((a, b) => (b.share > a.share ? b : a));
  return best.share > LEAST_SHARE ? best.separator : null;
}

/** Share of lines with the first line's number of cells; 0 where the separator does not split the first line. */
function agreement(text: string, separator: Separator): number {
  const { data } = Papa.parse(text, { delimiter: separator, newline: '\n', preview: LINES_LOOKED_AT });
  const lines = data.filter((cells) => cells.length > 1 || (cells[0] ?? '').trim() !== '');
  const expected = lines[0]?.length ?? 0;
  const lastFilled = lines[0]?.findLastIndex((cell) => cell.trim() !== '') ?? -1;
  if (lastFilled < 1) return 0;
  return lines.filter((cells) => cells.length === expected).length / lines.length;
}
