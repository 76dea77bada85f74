/**
 * Letters for a table of means: two means share a letter exactly when the comparison did not tell them apart.
 *
 * Works from the decisions, not from a range of means, so it is right for unequal replication too, where a small
 * difference can be real and a larger one not. Each letter stands for a largest set of means none of which differ.
 * Letters are given from the best mean downwards: a, b, ... z, then a2, b2, ...
 *
 * @param means - one a level; only their order matters
 * @param differs - levels x levels, symmetric: `differs[i][j]` when i and j were found to differ
 * @param best - whether `a` starts at the `highest` mean (default) or at the `lowest`
 * @returns letters of each level, joined, in the order of the levels
 * @throws RangeError when the matrix is not square and symmetric, or a level differs from itself
 * Source: H.-P. Piepho (2004) J. Comput. Graph. Stat. 13:456-466 (insert and absorb).
 * @example letterGroups([9, 7, 5], [[f, f, t], [f, f, f], [t, f, f]]) // ['a', 'ab', 'b']
 */
export function letterGroups(
  means: readonly number[],
  differs: readonly (readonly boolean[])[],
  best: 'highest' | 'lowest' = 'highest',
): readonly string[] {
  requireDecisions(means.length, differs);
  const sign = best === 'highest' ? -1 : 1;
  const order = means.map((_, level) => level).sort((i, j) => sign * (means[i]! - means[j]!) || i - j);
  const placeOf = new Map(order.map((level, place) => [level, place]));
  const groups = insertAndAbsorb(means.length, differs)
    .map((group) => [...group].map((level) => placeOf.get(level)!).sort((x, y) => x - y))
    .sort(byPlaces);
  return means.map((_, level) =>
    groups.map((group, i) => (group.includes(placeOf.get(level)!) ? letter(i) : '')).join(''),
  );
}

type Group = ReadonlySet<number>;

/** Starts from one group of all; every pair that differs splits the groups holding both; subsets are absorbed. */
function insertAndAbsorb(levels: number, differs: readonly (readonly boolean[])[]): Group[] {
  let groups: Group[] = [new Set(Array.from({ length: levels }, (_, level) => level))];
  for (let i = 0; i < levels; i++)
    for (let j = 0; j < i; j++)
      if (differs[i]![j]!) groups = absorb(groups.flatMap((group) => split(group, i, j)));
  return groups;
}

function split(group: Group, i: number, j: number): Group[] {
  return group.has(i) && group.has(j) ? [without(group, i), without(group, j)] : [group];
}

function without(group: Group, level: number): Group {
  return new Set([...group].filter((other) => other !== level));
}

/** Groups are never equal: two that split at one pair differ, and one that is within another was absorbed before. */
function absorb(groups: readonly Group[]): Group[] {
  const isWithin = (a: Group, b: Group) => a.size < b.size && [...a].every((level) => b.has(level));
  return groups.filter((group) => !groups.some((other) => isWithin(group, other)));
}

function byPlaces(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return a.length - b.length;
}

function letter(index: number): string {
  const round = Math.floor(index / 26);
  return String.fromCharCode(97 + (index % 26)) + (round === 0 ? '' : String(round + 1));
}

function requireDecisions(levels: number, differs: readonly (readonly boolean[])[]): void {
  const sound =
    differs.length === levels &&
    differs.every((row, i) => row.length === levels && !row[i] && row.every((d, j) => d === differs[j]?.[i]));
  if (!sound)
    throw new RangeError(
      `letterGroups: expected a symmetric ${levels} x ${levels} matrix, false on its diagonal`,
    );
}
