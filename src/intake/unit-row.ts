import type { Problem } from '../trial/problem.ts';
import { type DecimalReading, readDecimal } from './decimal-number.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { findUnit } from './known-units.ts';
import { intakeProblem } from './problem-codes.ts';

/** Headings with the units that stand in a row of their own beneath them. */
export interface HeadingsWithUnits {
  readonly headings: readonly string[];
  readonly problems: readonly Problem[];
}

const PLAIN: DecimalReading = { mark: '.', proven: false };
/** What stands in a row of units over columns that have none. */
const NO_UNIT =
  /^(?:|-+|[[({][^\])}]*[\])}]|utc|gmt|iso|text|wgs ?84|id|name|n\/a|[ymdhs]{1,4}(?:[-/:. t]+[ymdhs]{1,4})+z?)$/i;
const ROWS_BELOW = 20;

/**
 * Whether the first row beneath the headings holds units, and the headings as "Yield (t/ha)" if so: each cell is a
 * known unit over a column of numbers, or blank, or a dash, or the form of a date. null: it is a row like any other.
 */
export function unitsBelow(
  headings: readonly string[],
  cells: readonly string[],
  below: readonly (readonly string[])[],
  place: { readonly file: string | null; readonly row: number },
): HeadingsWithUnits | null {
  const texts = headings.map((_, index) => withoutBrackets(cells[index] ?? ''));
  const rows = below.slice(0, ROWS_BELOW);
  const isUnit = (text: string, index: number) => findUnit(text) !== null && holdsNumbers(rows, index);
  if (!texts.some(isUnit)) return null;
  const fits = texts.every((text, index) => isUnit(text, index) || NO_UNIT.test((cells[index] ?? '').trim()));
  if (!fits) return null;
  const problems: Problem[] = [];
  const named = headings.map((heading, index) => {
    const text = texts[index] ?? '';
    if (!isUnit(text, index)) return heading;
    const own = takeHeadingApart(heading);
    if (own.unit === null) return `${heading} (${text})`;
    if (own.unit.name !== findUnit(text)?.name) {
      const details = { inHeading: own.unitText, below: text };
      problems.push(intakeProblem('unitsDisagree', { ...place, column: heading }, details));
    }
    return heading;
  });
  const units = texts.filter(isUnit);
  return { headings: named, problems: [intakeProblem('unitsBelowHeadings', place, { units }), ...problems] };
}

function withoutBrackets(cell: string): string {
  return cell
    .trim()
    .replace(/^[[({](.*)[\])}]$/, '$1')
    .trim();
}

function holdsNumbers(rows: readonly (readonly string[])[], column: number): boolean {
  return rows.some((cells) => !['notANumber', 'lost'].includes(readDecimal(cells[column] ?? '', PLAIN).kind));
}
