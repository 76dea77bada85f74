import { type TrialDocument, trialDocumentSchema } from './trial-document.ts';

/**
 * Sets one field of the document by its dotted path (`treatments.0.costPerHa`). An entry of a list may also be
 * named by its id (`treatments.untreated.costPerHa`). A field that a document may leave out can be set as well. null
 * where no such field exists.
 */
export function setAtPath(trial: TrialDocument, path: string, value: unknown): TrialDocument | null {
  const keys = path.split('.');
  const copy = structuredCopy(trial);
  let parent: unknown = copy;
  for (const key of keys.slice(0, -1)) parent = child(parent, key);
  const last = keys.at(-1);
  if (last === undefined || !isContainer(parent)) return null;
  const key = keyWithin(parent, last) ?? (!Array.isArray(parent) && isKnownField(keys) ? last : null);
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

/** Does the schema know the field, whether this document has it or not? */
function isKnownField(keys: readonly string[]): boolean {
  let schema: unknown = trialDocumentSchema;
  for (const key of keys) schema = schemaWithin(unwrapped(schema), key);
  return schema !== undefined;
}

function schemaWithin(schema: unknown, key: string): unknown {
  if (!isContainer(schema)) return undefined;
  if ('item' in schema) return schema.item;
  if (!('entries' in schema) || !isContainer(schema.entries)) return undefined;
  return Object.hasOwn(schema.entries, key) ? (schema.entries as Record<string, unknown>)[key] : undefined;
}

/** What stands within optional and nullable. */
function unwrapped(schema: unknown): unknown {
  let inner = schema;
  while (isContainer(inner) && 'wrapped' in inner) inner = inner.wrapped;
  return inner;
}
