import { parseArgs } from 'node:util';
import { reportJson } from '../export/report-json.ts';
import { detectableInUsualBlocks, planReplicates } from '../pipeline/plan-replicates.ts';
import { reportOfProblems } from '../pipeline/report-of-problems.ts';
import type { Outcome } from '../trial/problem.ts';
import { success } from '../trial/problem.ts';
import { adviceLine } from '../words/problem-sentences.ts';
import { replicatesText } from '../words/replicates-sentences.ts';
import { asksForJson, numberOf } from './arguments.ts';
import { EXIT } from './exit-codes.ts';
import { firstSentence, wrong } from './wrong-arguments.ts';

const OPTIONS = {
  treatments: { type: 'string' },
  cv: { type: 'string' },
  difference: { type: 'string' },
  power: { type: 'string' },
  alpha: { type: 'string' },
  json: { type: 'boolean' },
} as const;

interface Asked {
  readonly treatments: number;
  readonly cvPercent: number;
  readonly differencePercent: number;
  readonly power: number;
  readonly alpha: number;
}

const USUAL_POWER = 0.8;
const USUAL_ALPHA = 0.05;

/** `stripverdict replicates`: how many blocks a trial needs, before it is laid out. */
export function runReplicates(words: readonly string[]): number {
  const asked = askedFor(words);
  if (!asked.ok) {
    const report = reportOfProblems(asked.problems);
    if (asksForJson(words)) process.stdout.write(reportJson(report));
    else
      for (const fault of report.problems)
        process.stderr.write(`stripverdict: ${adviceLine(fault, fault)}\n`);
    return EXIT.badInput;
  }
  const answer = planReplicates(asked.value);
  if (asksForJson(words)) process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
  else {
    const figures = { ...asked.value, ...answer, wantedPower: asked.value.power };
    process.stdout.write(replicatesText(figures, detectableInUsualBlocks(asked.value)));
  }
  return EXIT.analysed;
}

function askedFor(words: readonly string[]): Outcome<Asked> {
  let values: Readonly<Record<string, string | boolean | undefined>>;
  try {
    values = parseArgs({ args: [...words], options: OPTIONS, strict: true }).values;
  } catch (error) {
    return wrong(firstSentence(error));
  }
  const text = (name: keyof typeof OPTIONS) => {
    const value = values[name];
    return typeof value === 'string' ? value : undefined;
  };
  const whole = (x: number) => Number.isInteger(x) && x >= 2;
  const treatments = needed('treatments', text('treatments'), whole, 'a whole number from 2 on');
  if (!treatments.ok) return treatments;
  const cv = needed('cv', text('cv'), (x) => x > 0, 'above 0, in percent');
  if (!cv.ok) return cv;
  const difference = needed(
    'difference',
    text('difference'),
    (x) => x > 0,
    'above 0, in percent of the mean',
  );
  if (!difference.ok) return difference;
  const alpha = numberOf('alpha', text('alpha'), (x) => x > 0 && x <= 0.5, 'above 0 and at most 0.5');
  if (!alpha.ok) return alpha;
  const level = alpha.value ?? USUAL_ALPHA;
  const range = `above alpha (${level}) and below 1`;
  const power = numberOf('power', text('power'), (x) => x > level && x < 1, range);
  if (!power.ok) return power;
  return success({
    treatments: treatments.value,
    cvPercent: cv.value,
    differencePercent: difference.value,
    power: power.value ?? USUAL_POWER,
    alpha: level,
  });
}

function needed(
  name: string,
  text: string | undefined,
  fits: (value: number) => boolean,
  range: string,
): Outcome<number> {
  const read = numberOf(name, text, fits, range);
  if (!read.ok) return read;
  return read.value === null ? wrong(`--${name} is needed: a number ${range}`) : success(read.value);
}
