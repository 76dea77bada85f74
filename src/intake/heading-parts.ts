import { findUnit, type KnownUnit } from './known-units.ts';

/** A heading taken apart: the words that name the quantity, and the unit beside them. */
export interface HeadingParts {
  readonly heading: string;
  /** Lower case, accents taken off, in the order in which they stand. */
  readonly words: readonly string[];
  /** As written in the heading; null: none stands there. */
  readonly unitText: string | null;
  readonly unit: KnownUnit | null;
}

const WET_OR_DRY = new Set([
  'wet',
  'dry',
  'dried',
  'feucht',
  'nass',
  'trocken',
  'humide',
  'sec',
  'seco',
  'humedo',
]);
const LONGEST_HEADING = 120;

export function takeHeadingApart(heading: string): HeadingParts {
  const short = heading.slice(0, LONGEST_HEADING);
  return unitInBrackets(short, heading) ?? unitAmongTokens(withoutStrangeQuotient(short), heading);
}

function unitInBrackets(short: string, heading: string): HeadingParts | null {
  for (const match of [...short.matchAll(/[([{]([^()[\]{}]*)[)\]}]/g)].reverse()) {
    const inside = (match[1] ?? '').trim();
    const unit = findUnit(inside);
    if (unit === null) continue;
    const rest = short.slice(0, match.index) + short.slice(match.index + match[0].length);
    return { heading, words: tokensOf(rest), unitText: inside, unit };
  }
  return null;
}

/** A quotient in brackets that is no known unit, such as "(ton/ac)", is none by its last part alone. */
function withoutStrangeQuotient(short: string): string {
  return short.replace(/[([{]\s*[^()[\]{}/]{1,30}\/[^()[\]{}/]{1,30}[)\]}]\s*$/, '');
}

/** Two or three neighbouring tokens may be a quotient anywhere ("kg_ha", "lb per ac"); a single one only at the end. */
function unitAmongTokens(short: string, heading: string): HeadingParts {
  const tokens = tokensOf(short);
  const end = tokens.findLastIndex((token) => !WET_OR_DRY.has(token)) + 1;
  for (const length of [3, 2, 1]) {
    for (let start = tokens.length - length; start >= 1; start -= 1) {
      const run = tokens.slice(start, start + length);
      if (length === 1 && start + 1 !== end && run[0] !== '%') continue;
      if (length === 3 && run[1] !== 'per') continue;
      const unitText = run.filter((token) => token !== 'per').join('/');
      const unit = findUnit(unitText);
      if (unit === null) continue;
      const words = [...tokens.slice(0, start), ...tokens.slice(start + length)];
      return { heading, words, unitText, unit };
    }
  }
  return { heading, words: tokens, unitText: null, unit: null };
}

function tokensOf(text: string): string[] {
  return text
    .replace(/\s*\b(ha|ac|s|h)\s*(?:\^?[-−]1|⁻¹)/gi, '/$1 ')
    .replace(/\s*\bm\s*(?:\^?[-−]2|⁻²)/gi, '/m2 ')
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replaceAll('%', ' % ')
    .replaceAll('°', ' deg ')
    .replaceAll('²', '2')
    .replaceAll('ß', 'ss')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^\p{L}\p{N}%]+/u)
    .filter((token) => token !== '');
}
