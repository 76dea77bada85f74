import { setAsideBalance, WORTH_SAYING_GAP, WORTH_SAYING_P } from '../harvest/set-aside-balance.ts';
import type { StripValue } from '../harvest/strip-values.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What the screens took of each treatment's points, for the page where the screens are set. */
export interface SetAsideByTreatment {
  /** Shares of 0 to 1, mean over the strips; treatments without points are left out. */
  readonly treatments: readonly { readonly treatment: string; readonly share: number }[];
  /** By the trial's own design; null where that cannot tell. */
  readonly p: number | null;
  /** So uneven that the comparison may be biased. */
  readonly isUneven: boolean;
}

/** null where no strip has points. */
export function setAsideByTreatment(
  trial: TrialDocument,
  strips: readonly StripValue[],
): SetAsideByTreatment | null {
  const { shareOfTreatment, gap, p } = setAsideBalance(trial, strips);
  const treatments = trial.treatments.flatMap(({ name }, index) => {
    const share = shareOfTreatment[index] ?? null;
    return share === null ? [] : [{ treatment: name, share }];
  });
  if (treatments.length === 0) return null;
  const isUneven = (gap ?? 0) >= WORTH_SAYING_GAP || (p ?? 1) < WORTH_SAYING_P;
  return { treatments, p, isUneven };
}
