/**
 * Names that people read, each once: an entry whose name another one shares carries its id behind it. By id.
 */
export function distinctNames(
  entries: readonly { readonly id: string; readonly name: string }[],
): ReadonlyMap<string, string> {
  const uses = new Map<string, number>();
  for (const { name } of entries) uses.set(name, (uses.get(name) ?? 0) + 1);
  return new Map(entries.map(({ id, name }) => [id, (uses.get(name) ?? 0) > 1 ? `${name} (${id})` : name]));
}
