import type { ReportResponse } from '../findings/report-model.ts';

/**
 * Letters of the procedure that decides, by treatment; empty where it gives none, as against one check. Plain t
 * tests and LSD are the same test, so t takes the letters of LSD; a protected LSD does not, for it falls silent
 * when F is not significant.
 */
export function decidingLetters(response: ReportResponse): ReadonlyMap<string, string> {
  const procedure = response.decidedBy?.procedure;
  if (procedure === undefined) return new Map();
  const names: readonly string[] = procedure === 't' ? ['t', 'lsd', 'paired'] : [procedure];
  const entries = response.means.flatMap((mean): [string, string][] => {
    const letter = names.map((name) => mean.letters[name]).find((found) => found !== undefined);
    return letter === undefined ? [] : [[mean.treatment, letter]];
  });
  return entries.length === response.means.length ? new Map(entries) : new Map();
}
