import { type Details, fill } from './sentence.ts';

/** What the logs of the application say that weakens every answer of the trial, by the problem's code; one sentence each. */
const WEAKNESS_BY_CODE: Readonly<Record<string, string>> = {
  stripGotAnother:
    'Strip {strip} was to be {planned} but got something else on {sharePercent} % of it, so it is not used as it stands.',
  stripGotAnotherRate:
    'Strip {strip} was to be {planned} but got the rate of {treatments}, so it is not used as it stands.',
  stripsNotCovered:
    'Nothing of what was planned was put on strips ({count}: {strips}); they are not used, so the means rest on fewer strips.',
  stretchesSkipped:
    'Stretches did not get what was planned and are left out ({totalM} m in all; of strips {strips}), so these strips rest on less ground.',
  otherProductOnStrips:
    'Another product than theirs lies on up to {mostPercent} % of strips ({count}: {strips}); only stretches that clearly have it are left out.',
  appliedWithoutPlan:
    'Something was put on up to {mostPercent} % of strips that were to get nothing ({count}: {strips}), so they may not stand for untreated ground.',
  rateOffPlan:
    'Rates missed the plan by up to {mostPercent} % (strips {strips}): the answer is about what was put out, not about what was planned.',
  rateUnitsDiffer:
    'Whether rates kept to the plan is not known for {treatments}: the log gives {logged}, the plan {planned}.',
  rateOfAnotherKind:
    'Whether rates kept to the plan is not known for {treatments}: log and plan seem to count different things.',
  noLogOfPart:
    'No log tells whether strips of {treatments} got all of their tank mix ({products} is in none).',
  coveredTwice:
    'Ground was covered twice on up to {mostPercent} % of strips ({count}: {strips}) and got a double rate there.',
  swathsAstray:
    'Swaths of other treatments reach over up to {mostPercent} % of strips ({count}: {strips}), which blurs differences.',
  noLogOfTreatment: 'No log tells what strips of {treatments} got; they count as treated as planned.',
  askProductMeaning:
    'A log names products that nobody explained ({products}); what lies under them is not judged.',
  offPlanByTreatment:
    'Ground left out because of the application took more from some treatments than from others ({gapPercent} points of percent), which can move the difference by itself.',
  offPlanNotInWeights:
    'Ground that did not get what was planned is in the weights of strips ({count}), which were taken whole.',
};

/** null: what was found weakens nothing. */
export function applicationWeakness(code: string, details: Details): string | null {
  const sentence = WEAKNESS_BY_CODE[code];
  return sentence === undefined ? null : fill(sentence, details);
}

export function logNotRead(files: readonly string[]): string {
  return `The application log was not read (${files.join(', ')}), so ground that got nothing, or something else, may be in the values.`;
}
