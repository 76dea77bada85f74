/** The crop still standing across the field, as intervals of eastM; passes run the whole length, so this is enough. */
export class StandingCrop {
  #standing: (readonly [number, number])[];

  constructor(widthM: number) {
    this.#standing = [[0, widthM]];
  }

  /** What a header over [west, east] meets; it stands no longer. */
  cut(west: number, east: number): readonly (readonly [number, number])[] {
    const met: (readonly [number, number])[] = [];
    const left: (readonly [number, number])[] = [];
    for (const [from, to] of this.#standing) {
      const [a, b] = [Math.max(from, west), Math.min(to, east)];
      if (b <= a) {
        left.push([from, to]);
        continue;
      }
      met.push([a, b]);
      if (from < a) left.push([from, a]);
      if (b < to) left.push([b, to]);
    }
    this.#standing = left;
    return met;
  }
}
