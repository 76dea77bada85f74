import type { TrialDocument } from './trial-document.ts';

/**
 * Sets one field of the document by its dotted path (`treatments.0.costPerHa`). An entry of a list may also be
 * named by its id (`treatments.untreated.costPerHa`). null where no such field exists.
 */
export function setAtPath(trial: TrialDocument, path: string, value: unknown): TrialDocument | null {
  const keys = path.split('.');
  const copy = structuredCopy(trial);
  let parent: unknown = copy;
  for (const key of keys.slice(0, -1)) parent = child(parent, key);
  const last = keys.at(-1);
  if (last === undefined || !isContainer(parent)) return null;
  const key = keyWithin(parent, last);
  if (key === null) return null;
  (parent as Record<string, unknown>)[key] = value;
  return copy;
}

function child(parent: unknown, key: string): unknown {
  if (!isContainer(parent)) return undefined;
  const found = keyWithin(parent, key);
  return found === null ? undefined : (parent as Record<string, unknown>)[found];
}

function keyWithin(parent: object, key: string): string | null {
  if (Object.hasOwn(parent, key) && key !== 'length') return key;
  if (!Array.isArray(parent)) return null;
  const index = parent.findIndex((entry: unknown) => isContainer(entry) && 'id' in entry && entry.id === key);
  return index < 0 ? null : String(index);
}

function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

/** The document is JSON by definition, so its text is a faithful copy. */
function structuredCopy(trial: TrialDocument): TrialDocument {
  return JSON.parse(JSON.stringify(trial));
}
