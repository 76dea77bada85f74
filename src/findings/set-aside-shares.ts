import type { StripValue } from '../harvest/strip-values.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** Points left out because of where they lie, not of what they say: alike for all treatments by construction. */
const GEOMETRY = ['outsideStrips', 'sideMargin', 'cutFromBlock', 'cutFromStrip', 'endMargin'];

/**
 * By treatment, in the document's order: the mean over its strips of the share of points that screens set aside.
 * Shares are averaged strip by strip, since points of one strip fail together. null where a treatment has no points.
 */
export function setAsideShares(
  trial: TrialDocument,
  valueByStrip: ReadonlyMap<string, StripValue>,
): readonly (number | null)[] {
  return trial.treatments.map(({ id }) => {
    const shares = trial.strips
      .filter((strip) => strip.treatment === id)
      .flatMap((strip) => shareOf(valueByStrip.get(strip.id)) ?? []);
    return shares.length === 0 ? null : shares.reduce((sum, share) => sum + share, 0) / shares.length;
  });
}

function shareOf(value: StripValue | undefined): number | null {
  if (value === undefined || value.pointsKept === null) return null;
  const screened = Object.entries(value.pointsSetAside)
    .filter(([reason]) => !GEOMETRY.includes(reason))
    .reduce((sum, [, points]) => sum + points, 0);
  const judged = value.pointsKept + screened;
  return judged === 0 ? null : screened / judged;
}
