/**
 * A fault in what the user handed over, named by a code. Words for a code are made in `src/words/`; here stand
 * the place and the figures that the sentence needs. Rows count as a person counts them in the file: the first
 * line is row 1.
 */
export type ProblemSeverity = 'error' | 'warning' | 'note';

export interface Problem {
  readonly code: string;
  readonly severity: ProblemSeverity;
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly details: Readonly<Record<string, string | number | boolean | readonly string[] | null>>;
}

export interface ProblemPlace {
  readonly file?: string | null;
  readonly row?: number | null;
  readonly column?: string | null;
}

export function problem(
  severity: ProblemSeverity,
  code: string,
  place: ProblemPlace = {},
  details: Problem['details'] = {},
): Problem {
  return {
    code,
    severity,
    file: place.file ?? null,
    row: place.row ?? null,
    column: place.column ?? null,
    details,
  };
}

/** What a reader or an edit comes to: a value with remarks, or the problems that stopped it. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function success<T>(value: T, problems: readonly Problem[] = []): Outcome<T> {
  return { ok: true, value, problems };
}

export function failure(...problems: readonly Problem[]): Outcome<never> {
  return { ok: false, problems };
}

/** Goes on with what was read, and keeps the remarks of both steps. */
export function after<A, B>(first: Outcome<A>, then: (value: A) => Outcome<B>): Outcome<B> {
  if (!first.ok) return first;
  const second = then(first.value);
  return { ...second, problems: [...first.problems, ...second.problems] };
}
