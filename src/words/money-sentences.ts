import { type ComparisonFigures, moneyNotKnown } from './answer-sentences.ts';
import { signed, signedMoney, significant, withUnit } from './number-formats.ts';
import { NUMBERS_ONLY } from './verdict-glossary.ts';

/** What a comparison comes to in money; the amounts are per unit of land. */
export interface MoneyFigures {
  readonly breakEven: number;
  /** Break-even as a ratio of a to b, where that is what is compared; else null. */
  readonly neededRatio: number | null;
  readonly net: number;
  readonly netLower: number | null;
  readonly netUpper: number | null;
  readonly moneyUnit: string;
}

type Money = 'Pays' | 'Does not pay' | 'May pay';

/** One line that starts with the verdict. */
export function moneySentence(verdict: Money | null, c: ComparisonFigures, m: MoneyFigures): string {
  const needs = whatItNeeds(c, m);
  const net = netRange(m);
  switch (verdict) {
    case null:
      return `${NUMBERS_ONLY}: ${needs}; measured was ${m.neededRatio === null ? shown(c.estimate, c) : `${significant(Math.exp(c.estimate), 4)} times`}, a net return of ${signedMoney(m.net, m.moneyUnit)}.`;
    case 'Pays':
      return `Pays: ${needs}, and the whole interval lies above that (${net}).`;
    case 'Does not pay':
      return `Does not pay: ${needs}, and the whole interval lies below that (${net}).`;
    case 'May pay':
      return `May pay: ${needs}, which lies within the interval (${net}).`;
  }
}

function whatItNeeds(c: ComparisonFigures, { breakEven, neededRatio }: MoneyFigures): string {
  const [at, against] =
    neededRatio === null
      ? [breakEven === 0 ? 'no difference' : shown(breakEven, c), breakEven === 0 ? '' : ` against ${c.b}`]
      : [`${significant(neededRatio, 4)} times what ${c.b} yields (taken as it came out here)`, ''];
  // Cheaper than what it is held against: it has no cost to cover.
  if (breakEven < 0) return `${c.a} costs less than ${c.b} and breaks even at ${at}${against}`;
  if (breakEven === 0) return `${c.a} costs as much as ${c.b} and breaks even at ${at}${against}`;
  return `${c.a} covers its cost at ${at}${against}`;
}

export function moneyProse(verdict: Money | null, c: ComparisonFigures, m: MoneyFigures): string {
  switch (verdict) {
    case null:
      return `Taken at face value ${c.a} returned ${signedMoney(m.net, m.moneyUnit)} against ${c.b}, after cost.`;
    case 'Pays':
      return `It pays: after cost ${c.a} returned ${signedMoney(m.net, m.moneyUnit)} against ${c.b}, and still more than nothing at the low end.`;
    case 'Does not pay':
      return `It does not pay: after cost ${c.a} returned ${signedMoney(m.net, m.moneyUnit)} against ${c.b}, and loses money even at the high end.`;
    case 'May pay':
      return `It may pay: after cost ${c.a} returned ${signedMoney(m.net, m.moneyUnit)} against ${c.b}, but a loss and a gain are both possible.`;
  }
}

function netRange(m: MoneyFigures): string {
  const text = `net return ${signedMoney(m.net, m.moneyUnit)}`;
  if (m.netLower === null || m.netUpper === null) return text;
  return `${text}, from ${signedMoney(m.netLower, m.moneyUnit)} to ${signedMoney(m.netUpper, m.moneyUnit)}`;
}

function shown(value: number, c: ComparisonFigures): string {
  return withUnit(signed(value, c.decimals), c.unit);
}

/** Words for what `breakEven` of the trial reports as missing. */
export function missingMoneyWords(missing: readonly string[]): readonly string[] {
  return missing.map((entry) =>
    entry === 'pricePerKg'
      ? 'the price of the crop is not given'
      : `the cost of ${entry.replace(/^costPerHa of /, '')} is not given`,
  );
}

export const NO_MONEY_IN_TABLE = 'a table of plots carries neither price nor costs';
export const NO_RATIO_NEEDED =
  'the cost that is saved is worth more than the whole crop, which no ratio of yields can show';
export const MONEY_FROM_YIELD_ALONE = 'money is reckoned from yield alone';

export { moneyNotKnown };
