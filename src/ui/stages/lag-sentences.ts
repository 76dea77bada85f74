import type { LagAnswer, LagUnknown } from '../../harvest/estimate-lag.ts';
import { fixed } from '../../words/number-formats.ts';

const WHY_UNKNOWN: Readonly<Record<LagUnknown, string>> = {
  noTime: 'the file records no time',
  noSignal: 'there is nothing to compare, which takes yield, width and the distance driven',
  tooFewPairs: 'too few neighbouring passes were driven in opposite directions',
  allOneWay: 'all passes were driven the same way, so a late signal looks the same in each of them',
  noClearLeast: 'no shift makes neighbouring passes agree clearly better than the others',
  atTheEdge: 'passes agree best at the end of what was tried, 15 s, which is no lag of a combine',
};

/** What was found about one signal of one file, in a sentence. */
export function lagSentence(signal: 'Flow' | 'Moisture', answer: LagAnswer): string {
  if (answer.kind === 'cannotTell') return `${signal}: cannot tell, since ${WHY_UNKNOWN[answer.why]}.`;
  const { lagS, lowerS, upperS, pairs } = answer;
  const between = `${fixed(lowerS, 1)} to ${fixed(upperS, 1)} s, from ${pairs} pairs of neighbouring passes`;
  if (lowerS <= 0 && upperS >= 0) {
    return `${signal}: nothing is left to take out, as far as the passes tell (${fixed(lagS, 1)} s; ${between}).`;
  }
  const side = lagS > 0 ? 'late' : 'early, so it was shifted too far already';
  return `${signal}: ${fixed(Math.abs(lagS), 1)} s ${side} (${between}).`;
}

/** To a tenth of a second: finer than the interval can be. */
export function shiftProposed(answer: LagAnswer): number | null {
  return answer.kind === 'lag' ? Math.round(answer.lagS * 10) / 10 : null;
}
