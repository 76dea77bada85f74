import { allPairs, type LevelPair, pairsAgainst } from '../../analyses/pairwise-differences.ts';
import { type Problem, problem } from '../trial/problem.ts';
import { type ReportRefusal, reportRefusal } from './report-refusal.ts';
import type { ResponseDesign } from './response-design.ts';
import type { Judging, ResponsePlots } from './response-plots.ts';

/** The comparisons that the trial was laid out for, as levels of the design; b is the check or stands earlier. */
export interface PairsThatMatter {
  readonly kind: 'againstCheck' | 'allPairs' | 'named';
  readonly pairs: readonly LevelPair[];
  readonly problems: readonly Problem[];
}

export function pairsThatMatter(
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
): PairsThatMatter | ReportRefusal {
  const kind = comparisonKind(judging);
  if (kind === 'allPairs') return { kind, pairs: everyPair(design, judging.check), problems: [] };
  if (kind === 'named') return namedPairs(response, design, judging);
  if (judging.check === null) return reportRefusal('noCheck');
  const check = design.treatments.indexOf(judging.check);
  if (check >= 0) return { kind, pairs: pairsAgainst(check, design.treatments.length), problems: [] };
  const details = { response: response.name, check: response.treatments[judging.check] ?? '' };
  return { kind, pairs: [], problems: [problem('warning', 'checkWithoutValues', {}, details)] };
}

function comparisonKind(judging: Judging): PairsThatMatter['kind'] {
  if (judging.comparisons !== 'auto') return judging.comparisons;
  return judging.check === null ? 'allPairs' : 'againstCheck';
}

/** Every pair once: the later treatment minus the earlier, save that the check is always b. */
export function everyPair(design: ResponseDesign, check: number | null): LevelPair[] {
  const checkLevel = check === null ? -1 : design.treatments.indexOf(check);
  return allPairs(design.treatments.length).map(([a, b]): LevelPair => (a === checkLevel ? [b, a] : [a, b]));
}

function namedPairs(
  response: ResponsePlots,
  design: ResponseDesign,
  judging: Judging,
): PairsThatMatter | ReportRefusal {
  if (judging.namedPairs.length === 0) return reportRefusal('noNamedPairs');
  const pairs: LevelPair[] = [];
  const problems: Problem[] = [];
  for (const named of judging.namedPairs) {
    const [first, second] = orientated(named, judging.check);
    const [a, b] = [design.treatments.indexOf(first), design.treatments.indexOf(second)];
    if (a >= 0 && b >= 0) {
      if (!pairs.some(([x, y]) => x === a && y === b)) pairs.push([a, b]);
      continue;
    }
    const [nameA, nameB] = [response.treatments[first] ?? '', response.treatments[second] ?? ''];
    const details = { response: response.name, a: nameA, b: nameB };
    problems.push(problem('warning', 'namedPairWithoutValues', {}, details));
  }
  return { kind: 'named', pairs, problems };
}

/** b is the check where one of the two is; else the treatment that stands earlier in the document. */
function orientated(
  [x, y]: readonly [number, number],
  check: number | null,
): readonly [a: number, b: number] {
  if (x === check) return [y, x];
  if (y === check) return [x, y];
  return x > y ? [x, y] : [y, x];
}
