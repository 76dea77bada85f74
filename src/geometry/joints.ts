/** An edge in a strip's frame: along and across of its one corner, then of the other. */
export type EdgeOfStrip = readonly [number, number, number, number];

/** Digitised corners of parts that are meant to touch lie this near, a few units of the last digit of a position. */
const TOUCH_M = 0.05;

/** Every edge is held against every other; no strip that people draw has as many. */
const MOST_EDGES_COMPARED = 3000;

/**
 * Edges of a strip, those of each part apart, without what two parts have in common: ground that goes on beyond an edge
 * does not end there. An edge is cut where only a stretch of it is shared. `isEnd`: edges that run across the strip,
 * else along it.
 */
export function withoutJoints(
  parts: readonly (readonly EdgeOfStrip[])[],
  isEnd: boolean,
): readonly EdgeOfStrip[] {
  const count = parts.reduce((sum, edges) => sum + edges.length, 0);
  if (parts.length < 2 || count > MOST_EDGES_COMPARED) return parts.flat();
  const turned = isEnd ? parts : parts.map((edges) => edges.map(swapped));
  const left = turned.flatMap((edges, p) => {
    const others = turned.flatMap((own, q) => (q === p ? [] : own));
    return edges.flatMap((edge) =>
      others.reduce<readonly EdgeOfStrip[]>(
        (pieces, other) => pieces.flatMap((one) => cut(one, other)),
        [edge],
      ),
    );
  });
  return isEnd ? left : left.map(swapped);
}

function swapped([a1, c1, a2, c2]: EdgeOfStrip): EdgeOfStrip {
  return [c1, a1, c2, a2];
}

function cut(edge: EdgeOfStrip, other: EdgeOfStrip): readonly EdgeOfStrip[] {
  const [low, high] = [Math.min(edge[1], edge[3]), Math.max(edge[1], edge[3])];
  const from = Math.max(low, Math.min(other[1], other[3]));
  const to = Math.min(high, Math.max(other[1], other[3]));
  const isShared =
    to - from > TOUCH_M &&
    [from, to].every((across) => Math.abs(alongAt(edge, across) - alongAt(other, across)) <= TOUCH_M);
  if (!isShared) return [edge];
  const stretch = (a: number, b: number): readonly EdgeOfStrip[] =>
    b - a > TOUCH_M ? [[alongAt(edge, a), a, alongAt(edge, b), b]] : [];
  return [...stretch(low, from), ...stretch(to, high)];
}

function alongAt([a1, c1, a2, c2]: EdgeOfStrip, across: number): number {
  return c1 === c2 ? a1 : a1 + ((across - c1) / (c2 - c1)) * (a2 - a1);
}
