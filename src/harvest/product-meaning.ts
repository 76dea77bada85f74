import type { ApplicationFile, Treatment, TrialDocument } from '../trial/trial-document.ts';

/** What rows of a log with one product's name stand for. */
export type ProductMeaning =
  /** What these treatments (indices) were to get; `isTakenFor`: nobody said so, but there is only one that it can be. */
  | { readonly kind: 'treatments'; readonly treatments: readonly number[]; readonly isTakenFor: boolean }
  /** Put on all strips alike: no part of the comparison. */
  | { readonly kind: 'apart' }
  /** Of the trial nowhere: wrong wherever it lies. */
  | { readonly kind: 'stray' }
  /** Not told: the rows are left out of account until the user says. */
  | { readonly kind: 'asked' };

/**
 * As the user answered; else the treatments whose planned product has that name (the treatment's own name where no
 * product is planned), without regard to capitals and spaces; a blank name where only one treatment is to get
 * anything.
 */
export function productMeaning(trial: TrialDocument, file: ApplicationFile, name: string): ProductMeaning {
  const answered = file.products.find((own) => own.name === name);
  if (answered !== undefined) return meaningSaid(trial, answered);
  const named = indices(
    trial,
    (treatment) => folded(treatment.planned?.product ?? treatment.name) === folded(name),
  );
  if (name !== '' && named.length > 0) return { kind: 'treatments', treatments: named, isTakenFor: false };
  const getting = indices(trial, expectsSomething);
  const isOnlyOne = name === '' && getting.length === 1;
  return isOnlyOne ? { kind: 'treatments', treatments: getting, isTakenFor: true } : { kind: 'asked' };
}

function meaningSaid(trial: TrialDocument, said: ApplicationFile['products'][number]): ProductMeaning {
  if (said.means !== 'treatments') return { kind: said.means };
  const treatments = indices(trial, ({ id }) => said.treatments.includes(id));
  return treatments.length === 0 ? { kind: 'asked' } : { kind: 'treatments', treatments, isTakenFor: false };
}

/** Was something to be put out? Where nobody said, a check is to get nothing and any other treatment its product. */
export function expectsSomething({ planned, isCheck }: Treatment): boolean {
  return planned ? planned.rate !== 0 : !isCheck;
}

function indices({ treatments }: TrialDocument, holds: (treatment: Treatment) => boolean): number[] {
  return treatments.flatMap((treatment, index) => (holds(treatment) ? [index] : []));
}

/** Names of products are the same whatever their capitals and spaces. */
export function folded(name: string): string {
  return name.trim().toLowerCase().replace(/\s+/g, ' ');
}
