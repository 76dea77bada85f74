/** Ranks from 1 for the smallest; tied values share the mean of their ranks. In the order given. */
export function midranks(values: readonly number[]): number[] {
  const ascending = values.map((_, i) => i).sort((i, j) => values[i]! - values[j]!);
  const ranks = new Array<number>(values.length).fill(0);
  for (let from = 0; from < ascending.length; ) {
    let to = from;
    while (to + 1 < ascending.length && values[ascending[to + 1]!] === values[ascending[from]!]) to++;
    for (let place = from; place <= to; place++) ranks[ascending[place]!] = (from + to) / 2 + 1;
    from = to + 1;
  }
  return ranks;
}
