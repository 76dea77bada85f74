/** Engines differ in the last bit of exp and log; the design allows this much. */
const RELATIVE = 1e-11;

/** Each number that differs by more than allowed, and everything else that differs at all. */
export function differences(ours: unknown, theirs: unknown, path = ''): readonly string[] {
  if (typeof ours === 'number' && typeof theirs === 'number') {
    const size = Math.max(Math.abs(ours), Math.abs(theirs));
    return Math.abs(ours - theirs) <= RELATIVE * size ? [] : [`${path}: ${ours} and ${theirs}`];
  }
  if (ours === null || theirs === null || typeof ours !== 'object' || typeof theirs !== 'object') {
    return ours === theirs ? [] : [`${path}: ${JSON.stringify(ours)} and ${JSON.stringify(theirs)}`];
  }
  const keys = Object.keys(ours);
  if (keys.join() !== Object.keys(theirs).join()) return [`${path}: keys or their order differ`];
  return keys.flatMap((key) =>
    differences(
      (ours as Record<string, unknown>)[key],
      (theirs as Record<string, unknown>)[key],
      `${path}.${key}`,
    ),
  );
}
