import type { Problem } from '../trial/problem.ts';

/** What is wrong, and what the user can do about it; one plain sentence each. */
export interface Advice {
  readonly message: string;
  readonly whatToDo: string;
}

export type Details = Problem['details'];

/** Words by code; `{name}` stands for a detail of that name. */
export type AdviceByCode = Readonly<Record<string, Advice>>;

export function fillAdvice(advice: Advice, details: Details): Advice {
  return { message: fill(advice.message, details), whatToDo: fill(advice.whatToDo, details) };
}

/** Puts details in their places. A detail that is not there stays visible as `{name}`, so that a test can see it. */
export function fill(template: string, details: Details): string {
  return template.replace(/\{(\w+)\}/g, (place, name: string) =>
    Object.hasOwn(details, name) ? detailText(details[name]) : place,
  );
}

function detailText(detail: Details[string] | undefined): string {
  if (detail === null || detail === undefined) return 'not known';
  if (typeof detail === 'number') return numberText(detail);
  if (typeof detail === 'boolean') return detail ? 'yes' : 'no';
  return typeof detail === 'string' ? detail : listed(detail);
}

/** Counts and measures in sentences: up to six digits, no trailing zeros. */
function numberText(value: number): string {
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(6)));
}

/** "a", "a and b", "a, b and c". */
export function listed(entries: readonly string[]): string {
  if (entries.length < 2) return entries[0] ?? 'none';
  return `${entries.slice(0, -1).join(', ')} and ${entries.at(-1)}`;
}
