import { type Problem, problem } from '../trial/problem.ts';
import type { StripValue } from './strip-values.ts';

/** Strips without a kept point, in one warning for all that lost them for the same commonest reason. */
export function emptyStripProblems(strips: readonly StripValue[]): Problem[] {
  const alike = new Map<string | null, StripValue[]>();
  for (const strip of strips) {
    if (strip.values.yield !== null) continue;
    const reason = commonestReason(strip);
    alike.set(reason, [...(alike.get(reason) ?? []), strip]);
  }
  return [...alike].map(([mostOften, empty]) => {
    const pointsRead = empty.reduce((sum, strip) => sum + (strip.pointsRead ?? 0), 0);
    const details = { strips: empty.map(({ strip }) => strip), count: empty.length, pointsRead, mostOften };
    return problem('warning', 'stripsWithoutKeptPoints', {}, details);
  });
}

function commonestReason({ pointsSetAside }: StripValue): string | null {
  return Object.entries(pointsSetAside).sort(([, a], [, b]) => b - a)[0]?.[0] ?? null;
}
