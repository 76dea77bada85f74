import { fixed, levelPercent, signedBound, withUnit } from './number-formats.ts';
import { MONEY_NOT_KNOWN, NUMBERS_ONLY } from './verdict-glossary.ts';

/** A comparison of a with b as people will read it. `level` is that of the interval, 0.95 for 95 percent. */
export interface ComparisonFigures {
  readonly response: string;
  readonly a: string;
  readonly b: string;
  readonly unit: string | null;
  readonly decimals: number;
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly level: number;
  readonly equivalenceLower: number | null;
  readonly equivalenceUpper: number | null;
  readonly equivalenceLevel: number;
  readonly margin: number | null;
}

type Difference = 'Real' | 'Same for practical purposes' | 'Real, but smaller than matters' | 'Not settled';

/** One line that starts with the verdict. */
export function differenceSentence(verdict: Difference | null, c: ComparisonFigures): string {
  const margin = withUnit(fixed(c.margin, c.decimals), c.unit);
  switch (verdict) {
    case null:
      return `${NUMBERS_ONLY}: ${observed(c)}, and nothing tells how much of that is chance.`;
    case 'Real':
      return `Real: ${observed(c)} (${intervalText(c)}).`;
    case 'Real, but smaller than matters':
      return `Real, but smaller than matters: ${observed(c)} (${intervalText(c)}), and that is less than the margin of ${margin}.`;
    case 'Same for practical purposes':
      return `Same for practical purposes: ${c.a} and ${c.b} differ in ${c.response} by less than the margin of ${margin} (${equivalenceText(c)}).`;
    case 'Not settled':
      return `Not settled: ${observed(c)}, but these strips cannot tell that from chance (${intervalText(c)}).`;
  }
}

/** "yield was 0.45 t/ha higher with A than with B". */
export function observed(c: ComparisonFigures): string {
  const size = fixed(Math.abs(c.estimate), c.decimals);
  if (Number(size) === 0 && c.estimate === 0) return `${c.response} was the same with ${c.a} as with ${c.b}`;
  const direction = c.estimate > 0 ? 'higher' : 'lower';
  return `${c.response} was ${pointsOrUnit(size, c.unit)} ${direction} with ${c.a} than with ${c.b}`;
}

/** A difference between two percentages is told in points, lest it read as a share. */
function pointsOrUnit(size: string, unit: string | null): string {
  return unit === '%' ? `${size} percentage points` : withUnit(size, unit);
}

export function intervalText(c: ComparisonFigures): string {
  if (c.lower === null || c.upper === null) return 'no interval belongs to this procedure';
  return `${levelPercent(c.level)} interval ${range(c.lower, c.upper, c)}`;
}

export function equivalenceText(c: ComparisonFigures): string {
  if (c.equivalenceLower === null || c.equivalenceUpper === null) return 'no interval for equivalence';
  return `${levelPercent(c.equivalenceLevel)} interval ${range(c.equivalenceLower, c.equivalenceUpper, c)}`;
}

function range(lower: number, upper: number, c: ComparisonFigures): string {
  return pointsOrUnit(`${signedBound(lower, c.decimals)} to ${signedBound(upper, c.decimals)}`, c.unit);
}

/** The prose of the first statement, for a reader without statistics. */
export function differenceProse(verdict: Difference | null, c: ComparisonFigures): string {
  const margin = pointsOrUnit(fixed(c.margin, c.decimals), c.unit);
  switch (verdict) {
    case null:
      return `On these strips ${observed(c)}. No treatment was repeated, so nobody can say whether that is the treatment or the ground.`;
    case 'Real':
      return `On this field ${observed(c)}, and that is more than chance would readily explain.`;
    case 'Real, but smaller than matters':
      return `On this field ${observed(c)}. The difference is real, but smaller than the ${margin} that was set as worth having.`;
    case 'Same for practical purposes':
      return `On this field ${c.a} and ${c.b} came to the same ${c.response} for practical purposes: any difference is below ${margin}.`;
    case 'Not settled':
      return `On these strips ${observed(c)}, but strips treated alike vary enough to hide or to make such a difference: this trial cannot tell.`;
  }
}

/** Says that no money statement can be made, and for want of what. */
export function moneyNotKnown(missing: readonly string[]): string {
  return `${MONEY_NOT_KNOWN}: ${missing.join('; ')}.`;
}
