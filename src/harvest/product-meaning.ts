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
 * product is planned) or is a tank mix that holds it, without regard to capitals, spaces and the order in a mix; a blank
 * name where only one treatment is to get anything.
 */
export function productMeaning(trial: TrialDocument, file: ApplicationFile, name: string): ProductMeaning {
  const answered = file.products.find((own) => own.name === name);
  if (answered !== undefined) return meaningSaid(trial, answered);
  const parts = partsOfMix(name);
  const named = indices(trial, (treatment) => {
    const planned = partsOfMix(productOf(treatment));
    return parts.every((part) => planned.includes(part));
  });
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

/** What a treatment was to get, as it is called. */
export function productOf({ planned, name }: Pick<Treatment, 'planned' | 'name'>): string {
  return planned?.product ?? name;
}

/** Names of products are the same whatever their capitals and spaces, and a tank mix whatever the order of its products. */
export function folded(name: string): string {
  return partsOfMix(name).join(' + ');
}

/** The products of a tank mix, which are joined by "+", in order of the alphabet; a single product is one of its own. */
export function partsOfMix(name: string): readonly string[] {
  const parts = name.split('+').map((part) => part.trim().toLowerCase().replace(/\s+/g, ' '));
  return [...new Set(parts.filter((part) => part !== ''))].sort();
}
