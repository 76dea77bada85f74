import { twoOneSidedTests } from '../../analyses/equivalence.ts';
import type { PairwiseDifference } from '../../analyses/pairwise-differences.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { differenceVerdict, moneyVerdict } from '../../src/findings/verdicts.ts';
import { ALPHAS, type Cell, isStrained } from './cells.ts';
import {
  type CriticalValues,
  criticalValues,
  FAMILIES,
  type Family,
  type FittedTrial,
  fittedTrial,
  realOnes,
} from './short-cut.ts';
import { type SimulatedTrial, trialsOf } from './simulated-plots.ts';

/** How many trials showed each thing that is counted, by its name. */
export type Counts = Map<string, number>;

/** Draws the trials of a cell and counts. Everything that is counted has an entry, be it zero. */
export function countTrials(cell: Cell, trials: number): Counts {
  const next = trialsOf(cell);
  const counts: Counts = new Map();
  let criticals: readonly CriticalValues[] = [];
  for (let i = 0; i < trials; i++) {
    const simulated = next();
    const fitted = fittedTrial(simulated.response);
    if (criticals.length === 0) criticals = ALPHAS.map((alpha) => criticalValues(fitted, alpha));
    for (const critical of criticals) COUNTERS[cell.question](cell, simulated, fitted, critical, counts);
  }
  return counts;
}

type Counter = (
  cell: Cell,
  simulated: SimulatedTrial,
  fitted: FittedTrial,
  critical: CriticalValues,
  counts: Counts,
) => void;

const COUNTERS: Readonly<Record<Cell['question'], Counter>> = {
  falseReal: countFalseReal,
  power: countPower,
  verdicts: countVerdicts,
};

export const WARNED = 'warned of unequal variances';
export const UNWARNED = 'false real, not warned of unequal variances';

/** Two treatments have one comparison, which every procedure judges by t. */
export function familiesOf({ treatments }: Cell): readonly Family[] {
  return treatments === 2 ? FAMILIES.slice(0, 1) : FAMILIES;
}

export function label(what: string, alpha: number): string {
  return `${what} @ ${alpha}`;
}

function countFalseReal(...[cell, simulated, fitted, critical, counts]: Parameters<Counter>): void {
  const add = adder(counts, critical.alpha);
  // Two treatments are tested on their pairs, where unequal variances do no harm.
  const isJudged = isStrained(cell) && cell.treatments > 2;
  const warned = isJudged && fitted.warnsOfVariances();
  if (isJudged) add(WARNED, warned);
  for (const family of familiesOf(cell)) {
    const real = realOnes(family, fitted, critical);
    const isFalseReal = fitted[family.kind].some((row, i) => real[i] === true && isFalse(row, cell));
    add(`false real: ${family.name}`, isFalseReal);
    if (isJudged) add(`${UNWARNED}: ${family.name}`, isFalseReal && !warned);
    if (family.procedure !== 'holm' && family.procedure !== 'protectedLsd')
      add(
        `intervals that hold together: ${family.name}`,
        fitted[family.kind].every((row) => covers(row, critical.of[family.name], cell)),
      );
  }
  add('interval of one pair holds', covers(fitted.allPairs[0]!, critical.of['lsd, all pairs'], cell));
  const mean = fitted.means.means[1]!;
  const half = critical.ofMean * (mean.standardError ?? 0);
  add('interval of one mean holds', Math.abs(mean.mean - simulated.trueMeans[1]!) <= half);
}

function adder(counts: Counts, alpha: number): (what: string, seen: boolean) => void {
  return (what, seen) => {
    const key = label(what, alpha);
    counts.set(key, (counts.get(key) ?? 0) + (seen ? 1 : 0));
  };
}

const trueDifference = ({ a, b }: PairwiseDifference, { shifts }: Cell) => shifts[a]! - shifts[b]!;

/** Where treatments are alike every Real is false; where they differ, one with the wrong sign. */
function isFalse(row: PairwiseDifference, cell: Cell): boolean {
  const truth = trueDifference(row, cell);
  return truth === 0 || Math.sign(row.difference) !== Math.sign(truth);
}

function covers(row: PairwiseDifference, critical: number, cell: Cell): boolean {
  return Math.abs(row.difference - trueDifference(row, cell)) <= critical * row.standardError;
}

/** The last treatment, which differs, against the check. */
function countPower(...[cell, , fitted, critical, counts]: Parameters<Counter>): void {
  const add = adder(counts, critical.alpha);
  const last = cell.treatments - 1;
  for (const family of familiesOf(cell)) {
    if (family.procedure === 'holm' || family.procedure === 'protectedLsd') continue;
    const at = fitted[family.kind].findIndex(({ a, b }) => a === last && b === 0);
    add(`found: ${family.name}`, realOnes(family, fitted, critical)[at] === true);
  }
  add('significant F of treatments', fitted.treatmentP < critical.alpha);
}

export const VERDICTS = [
  'Real',
  'Real, but smaller than matters',
  'Same for practical purposes',
  'Not settled',
] as const;

/** What decides against a check: t for one treatment, Dunnett for several. */
export function verdictFamily({ treatments }: Cell): Family {
  return treatments === 2 ? FAMILIES[0] : FAMILIES[8];
}

/** Verdicts on the first treatment against the check; how often any of several is wrongly called the same. */
function countVerdicts(...[cell, , fitted, critical, counts]: Parameters<Counter>): void {
  const add = adder(counts, critical.alpha);
  const family = verdictFamily(cell);
  const margin = cell.margin ?? 0;
  const real = realOnes(family, fitted, critical);
  const rows = fitted[family.kind];
  const verdicts = rows.map((row, i) => {
    const tested = twoOneSidedTests(row, margin, critical.alpha);
    if (isRefusal(tested)) throw new Error(`expected an equivalence test, got the refusal ${tested.code}`);
    return differenceVerdict(real[i] ?? false, tested, margin);
  });
  for (const verdict of VERDICTS) add(verdict, verdicts[0] === verdict);
  add('called real', real[0] === true);
  if (cell.shifts[1]! >= margin) {
    const saysSame = verdicts.map((own) => own !== 'Real' && own !== 'Not settled');
    add('wrong Same, one comparison', saysSame[0] === true);
    add('wrong Same, any comparison', saysSame.includes(true));
  }
  const half = rows.map((row) => critical.of[family.name] * row.standardError);
  const money = rows.map((row, i) =>
    moneyVerdict({ lower: row.difference - half[i]!, upper: row.difference + half[i]! }, margin),
  );
  for (const word of ['Pays', 'Does not pay', 'May pay'] as const) add(`money: ${word}`, money[0] === word);
  add(
    'wrong about money, any comparison',
    money.some((word) => isWrong(word, cell.shifts[1]!, margin)),
  );
}

function isWrong(word: ReturnType<typeof moneyVerdict>, truth: number, breakEven: number): boolean {
  return (word === 'Pays' && truth <= breakEven) || (word === 'Does not pay' && truth >= breakEven);
}
