import { mkdirSync } from 'node:fs';
import { analysesInR } from './analyses-in-r.ts';
import { benchCleanings } from './cleanings-bench.ts';
import { completeAnalysis, differencesOf, tukeyTable } from './complete-analysis.ts';
import { answerMillion, benchHarvest } from './harvest-bench.ts';
import { benchPage } from './page-bench.ts';

import { trialsToAnalyse } from './trials-to-analyse.ts';
import { wholeReport } from './whole-report.ts';

export interface BenchPlace {
  /** For data and results. */
  readonly folder: string;
  readonly root: string;
  readonly appFolder: string;
  readonly browserPath: string;
  /** Parts to run; none named: all. */
  readonly only: readonly string[];
}

const TRIALS = 1000;
const ASKED_OF_R = 50;
const TUKEY_TABLES = 200;
const ASKED_TUKEY_MS = 20;
/** R's ptukey and ours part by up to 2e-8 a pair. */
const SAME_P = 5e-8;

export async function runBench({ folder, root, appFolder, browserPath, only }: BenchPlace): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const isAsked = (part: string) => only.length === 0 || only.includes(part);
  if (isAsked('analyses')) {
    await benchAnalyses(folder);
    benchTukeyTable();
  }
  if (isAsked('cleanings')) await benchCleanings(root);
  const million = isAsked('harvest') ? benchHarvest(folder, root) : null;
  if (!isAsked('harvest') && !isAsked('page')) return;
  await benchPage({ folder, appFolder, browserPath, ...(million ?? answerMillion(folder, root)) });
}

interface Took {
  readonly seconds: number;
  readonly processorSeconds: number;
}

function timed(work: () => void): Took {
  const cpu = process.cpuUsage();
  const began = performance.now();
  work();
  const seconds = (performance.now() - began) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  return { seconds, processorSeconds: (user + system) / 1e6 };
}

async function benchAnalyses(folder: string): Promise<void> {
  const trials = trialsToAnalyse(TRIALS);
  let sumOfP = 0;
  const same = timed(() => {
    for (const values of trials)
      sumOfP += tukeyTable(differencesOf(values)).comparisons.reduce((sum, { p }) => sum + p, 0);
  });
  const analyses = timed(() => {
    for (const values of trials) completeAnalysis(values);
  });
  let answers = 0;
  const reports = timed(() => {
    for (const values of trials) answers += wholeReport(values).responses[0]?.answers.length ?? 0;
  });
  const r = await analysesInR(trials, folder);
  const pairs = answers / TRIALS;
  const apart = Math.abs(r.sumOfP - sumOfP) / (TRIALS * pairs);
  console.log(`\n${TRIALS} trials of 12 treatments in 6 blocks, against aov + TukeyHSD in ${r.which}`);
  console.log(
    `  Tukey's p on average ${apart.toExponential(1)} apart (${apart < SAME_P ? 'the same' : 'NOT THE SAME'})`,
  );
  printRatio('the same as R does (model and Tukey)', r, same);
  printRatio('complete analyses (model, all procedures, letters, checks, verdicts)', r, analyses);
  printRatio(`whole reports (the same with sentences, ${pairs} answers each)`, r, reports);
  console.log(`  aimed at: ${ASKED_OF_R} times R`);
}

function printRatio(what: string, r: Awaited<ReturnType<typeof analysesInR>>, own: Took): void {
  const processor =
    r.processorSeconds === null
      ? ''
      : `, by processor time ${(r.processorSeconds / own.processorSeconds).toFixed(1)} times`;
  console.log(`  ${what}: ${(r.seconds / own.seconds).toFixed(1)} times as fast as R${processor}`);
}

/** A design seen for the first time has its distribution computed; one seen before has it kept. */
function benchTukeyTable(): void {
  const trials = trialsToAnalyse(TUKEY_TABLES).map(differencesOf);
  // Error df that differ in a digit nobody sees make every trial a design of its own.
  const unseen = trials.map((own, i) => own.map((row) => ({ ...row, df: row.df + (i + 1) * 1e-9 })));
  console.log(`\nTukey's table of all 66 pairs of 12 treatments, critical value and every p`);
  printTables('a design not seen before', unseen);
  printTables('a design seen before', trials);
  console.log(`  asked: less than ${ASKED_TUKEY_MS} ms`);
}

function printTables(what: string, trials: readonly ReturnType<typeof differencesOf>[]): void {
  const took = trials.map((own) => timed(() => tukeyTable(own)).seconds * 1000).sort((a, b) => a - b);
  const [middle, worst] = [took[Math.floor(took.length / 2)]!, took.at(-1)!];
  console.log(`  ${what}: median ${middle.toFixed(2)} ms, worst of ${took.length} ${worst.toFixed(2)} ms`);
}
