import { significant } from './number-formats.ts';

/** What two factors, a split plot and a change of scale need said. */

export const NO_MONEY_ON_SCALE =
  'money is reckoned on the scale on which the crop is sold, and a difference on another scale is no amount of it';

export function interactionFound(a: string, b: string, p: string): string {
  return `The levels of ${a} do not differ by the same at every level of ${b} (interaction ${p}): read the combinations, not the averages.`;
}

export function differenceKindLabel(kind: string, a: string, b: string): string {
  switch (kind) {
    case 'factorA':
      return `two levels of ${a}, over all ${b}`;
    case 'factorB':
      return `two levels of ${b}, over all ${a}`;
    case 'factorBWithinA':
      return `two levels of ${b} at one level of ${a}`;
    default:
      return `two levels of ${a} at one level of ${b}, or at different ones`;
  }
}

/** Two families of comparisons with errors of their own, guarded together. */
export function splitPlotDecides(comparisons: number, level: string, chosen: boolean): string {
  const by = chosen ? 'As chosen' : 'Follows from the split plot, whose two factors have errors of their own';
  return `${by}: ${comparisons} comparison(s) of main levels and of sub levels, each judged with its own error at ${level} over their number.`;
}

export function splitPlotUnguarded(comparisons: number, level: string): string {
  return `As chosen: each of ${comparisons} comparisons of main levels and of sub levels is judged alone at level ${level}, so the chance of a false Real grows with their number.`;
}

const SCALES: Readonly<Record<string, string>> = {
  squareRoot: 'square roots',
  log: 'natural logarithms',
  angular: 'angles (arc sine of the square root of the share, in degrees)',
};

export function scaleUnit(kind: string, response: string, unit: string | null): string {
  if (kind === 'angular') return 'degrees';
  return `${kind === 'log' ? 'ln' : 'sqrt'}(${unit ?? response})`;
}

export function scaleMeaning(kind: string, offset: number): string {
  const added = offset === 0 ? '' : ` after adding ${significant(offset, 2)}`;
  const back =
    kind === 'log'
      ? 'means brought back are geometric means, and differences become ratios'
      : 'means brought back with their intervals estimate the middle strip rather than the mean; differences cannot be brought back';
  return `Analysed on ${SCALES[kind] ?? kind}${added}, as chosen; ${back}.`;
}

/** For the reasons of one answer on logarithms. */
export function ratioReason(
  a: string,
  b: string,
  ratio: number,
  lower: number | null,
  upper: number | null,
): string {
  const range =
    lower === null || upper === null ? '' : ` (${significant(lower, 3)} to ${significant(upper, 3)})`;
  return `As a ratio: ${a} over ${b} is ${significant(ratio, 3)}${range}.`;
}
