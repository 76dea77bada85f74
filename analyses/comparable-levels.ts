import { orthogonalBasis } from './householder.ts';
import { columnsOfTerm } from './model-columns.ts';
import type { FactorTerm, ModelTerm } from './model-terms.ts';

/**
 * Which levels of a factor can be compared among themselves beside other terms, when not all can?
 *
 * Definition: two levels can be compared when the contrast between them is estimable, that is, when it lies in the row
 * space of the model. Then every model that treats the two as one level is smaller by a whole degree of freedom; where it is
 * not, the model that cannot tell them apart spans as much as before. The relation is transitive, so that levels fall into
 * groups: with blocks alone these are the groups that no chain of shared blocks links.
 *
 * @param factor - levels as in {@link FactorTerm}
 * @param others - on the same plots; interactions among them only
 * @returns groups of levels, in the order of their first; one group where all can be compared
 * Source: S. R. Searle (1971) Linear Models, ch. 5.4; J. A. John & E. R. Williams (1995) Cyclic and Computer Generated
 * Designs, 2nd ed., ch. 1 (connectedness).
 */
export function comparableLevels(
  factor: FactorTerm,
  others: readonly ModelTerm[],
): readonly (readonly number[])[] {
  const ones = new Array<number>(factor.levelOfPlot.length).fill(1);
  const before = [ones, ...others.flatMap((other) => columnsOfTerm(other, others))];
  const indicators = Array.from({ length: factor.levelCount }, (_, level) =>
    factor.levelOfPlot.map((own) => (own === level ? 1 : 0)),
  );
  const rank = rankOf([...before, ...indicators]);
  const isComparable = (a: number, b: number) => {
    const merged = indicators.map((column, level) =>
      level === a ? column.map((one, plot) => one + indicators[b]![plot]!) : column,
    );
    return rankOf([...before, ...merged.filter((_, level) => level !== b)]) === rank - 1;
  };
  const groups: number[][] = [];
  for (let level = 0; level < factor.levelCount; level++) {
    const group = groups.find(([first]) => isComparable(first!, level));
    if (group === undefined) groups.push([level]);
    else group.push(level);
  }
  return groups;
}

function rankOf(columns: readonly (readonly number[])[]): number {
  return columns.length - orthogonalBasis(columns).dependent.length;
}
