/**
 * Keeps what was computed for the last few keys. Distributions are pure functions of their parameters and the same ones
 * serve one trial after another, so a distribution with the tails it has tabulated is worth keeping.
 */
export function recentlyUsed<T>(most: number): (key: string, compute: () => T) => T {
  const known = new Map<string, T>();
  let newest: { readonly key: string; readonly value: T } | null = null;
  return (key, compute) => {
    if (newest?.key === key) return newest.value;
    const value = known.get(key) ?? compute();
    known.delete(key);
    known.set(key, value);
    const oldest = known.keys().next().value;
    if (known.size > most && oldest !== undefined) known.delete(oldest);
    newest = { key, value };
    return value;
  };
}
