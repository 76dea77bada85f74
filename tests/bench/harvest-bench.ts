import { join } from 'node:path';
import { type LargeHarvest, writeLargeHarvest } from './large-harvest.ts';
import { measuredProcess, type ProcessUsage } from './measured-process.ts';

const ASKED_OF_LINES = 8;
const ASKED_OF_TURF = 8;
const ASKED_OF_COLUMNS = 4;
const ASKED_MB = 300;
const MILLIONS = 10;
const ASKED_BYTES_A_POINT = 150;

/** A million points answered on the command line. */
export interface AnsweredMillion {
  readonly files: readonly string[];
  /** Whole process, by the clock. */
  readonly commandLineSeconds: number;
}

/** The command line's time alone, to put the page's beside it. */
export function answerMillion(folder: string, root: string): AnsweredMillion {
  const million = writeLargeHarvest(folder);
  return answered(million, answer(million, root, folder));
}

function answer({ layoutFile, harvestFile }: LargeHarvest, root: string, folder: string, runs?: number) {
  const words = ['answer', '--layout', layoutFile, '--harvest', harvestFile, '--json'];
  return measuredProcess(['src/cli/launch.mjs', ...words], root, folder, runs);
}

function answered({ layoutFile, harvestFile }: LargeHarvest, { seconds }: ProcessUsage): AnsweredMillion {
  return { files: [layoutFile, harvestFile], commandLineSeconds: seconds };
}

/** From a file of a million points to strip values, whole processes side by side; then ten million. */
export function benchHarvest(folder: string, root: string): AnsweredMillion {
  const program = (name: string) => join(folder, `program/${name}.mjs`);
  const measure = (words: readonly string[], runs?: number) => measuredProcess(words, root, folder, runs);
  const million = writeLargeHarvest(folder);
  const lines = measure([program('line-ends'), million.harvestFile]);
  const columns = measure([program('nine-columns'), million.harvestFile]);
  const plain = measure([program('papaparse-and-turf'), million.layoutFile, million.harvestFile], 1);
  const byStrip = measure(
    [program('papaparse-and-turf-by-strip'), million.layoutFile, million.harvestFile],
    1,
  );
  const own = answer(million, root, folder);
  console.log(
    `\n${million.points} points of 9 columns to values of ${million.strips} strips: whole processes, best of three`,
  );
  console.log(`  strips with a value: ${stripsWithValue(own)}; lines counted: ${lines.out.trim()}`);
  compare('the command line', own, 'counting line ends', lines, `at most ${ASKED_OF_LINES} times`);
  compare('papaparse and turf, leanest', plain, 'the command line', own, `at least ${ASKED_OF_TURF} times`);
  compare(
    'papaparse and turf, strip by strip',
    byStrip,
    'the command line',
    own,
    `at least ${ASKED_OF_TURF} times`,
  );
  compare('reading alone', columns, 'counting line ends', lines, `at most ${ASKED_OF_COLUMNS} times`);
  console.log(`  (${columns.out.trim()})`);
  console.log(`  peak memory ${own.peakMemoryMB.toFixed(0)} MB; asked: at most ${ASKED_MB} MB`);
  benchMemory(answer(writeLargeHarvest(folder, MILLIONS), root, folder, 1), own);
  return answered(million, own);
}

function benchMemory(many: ProcessUsage, own: ProcessUsage): void {
  const bytes = (usage: ProcessUsage, points: number) => (usage.peakMemoryMB * 1024 * 1024) / points;
  const all = MILLIONS * 1e6;
  const perFurther = (bytes(many, 1) - bytes(own, 1)) / (all - 1e6);
  console.log(
    `\n${all} points: strips with a value ${stripsWithValue(many)}, ${(many.processorSeconds / own.processorSeconds).toFixed(2)} times the processor time of a million`,
  );
  console.log(
    `  peak memory ${many.peakMemoryMB.toFixed(0)} MB: ${bytes(many, all).toFixed(1)} bytes a point all told, ${perFurther.toFixed(1)} for each beyond the first million; asked: at most ${ASKED_BYTES_A_POINT}`,
  );
}

function stripsWithValue({ out }: ProcessUsage): number {
  const report = JSON.parse(out) as { strips: { used: boolean }[] };
  return report.strips.filter(({ used }) => used).length;
}

function compare(what: string, a: ProcessUsage, than: string, b: ProcessUsage, asked: string): void {
  const ratio = (x: number, y: number) => (x / y).toFixed(2);
  console.log(
    `  ${what} takes ${ratio(a.processorSeconds, b.processorSeconds)} times the processor time of ${than}, ${ratio(a.seconds, b.seconds)} times its time by the clock, ${ratio(a.peakMemoryMB, b.peakMemoryMB)} times its peak memory; asked: ${asked}`,
  );
}
