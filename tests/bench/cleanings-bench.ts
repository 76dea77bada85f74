import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { cleaningsOfTrial } from '../../src/pipeline/cleanings-of-trial.ts';
import { KeptWork } from '../../src/pipeline/kept-work.ts';
import { openTrial } from '../../src/trial/open-trial.ts';

const ASKED_POINTS = 20_000;
const ASKED_COMBINATIONS = 100;
const ASKED_SECONDS = 0.5;
const ASKED_RUNS = 10;
const TIMES = 5;

/** The demo's log with a point put between any two, so that it holds more than 20,000; beyond, a run tries no cleanings itself. */
export async function benchCleanings(root: string): Promise<void> {
  const folder = join(root, 'fixtures/demo/fungicide-strips');
  const opened = openTrial(readFileSync(join(folder, 'trial.json'), 'utf8'));
  if (!opened.ok) throw new Error('the demo trial does not open');
  const trial = opened.value;
  const log = twiceAsDense(readFileSync(join(folder, 'harvest.csv'), 'utf8'));
  const points = log.split('\n').length - 2;
  const files = [
    { name: 'layout.geojson', bytes: readFileSync(join(folder, 'layout.geojson')) },
    { name: 'harvest.csv', bytes: new TextEncoder().encode(log) },
  ];
  const [runs, grids]: [number[], number[]] = [[], []];
  let combinations = 0;
  for (let time = 0; time < TIMES; time++) {
    const kept = new KeptWork();
    runs.push(await secondsOf(() => analyseTrial(trial, files, { kept })));
    grids.push(
      await secondsOf(async () => {
        const grid = await cleaningsOfTrial(trial, files, { kept });
        if (!grid.ok || grid.value === null) throw new Error('the demo has no grid of cleanings');
        combinations = grid.value.results.length;
      }),
    );
  }
  const [run, grid] = [Math.min(...runs), Math.min(...grids)];
  const ofHundred = (grid * ASKED_COMBINATIONS) / combinations;
  console.log(
    `\nDoes the cleaning decide? ${combinations} combinations over ${points} points, best of ${TIMES}`,
  );
  console.log(
    `  all ${combinations}: ${(grid / run).toFixed(2)} times one run from files to answer, ${grid.toFixed(3)} s`,
  );
  console.log(
    `  by the hundred: ${(ofHundred / run).toFixed(2)} times, ${ofHundred.toFixed(3)} s; asked: at most ${ASKED_RUNS} times, under ${ASKED_SECONDS} s for ${ASKED_POINTS} points`,
  );
}

async function secondsOf(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return (performance.now() - began) / 1000;
}

const [TIME, DISTANCE, HEADER] = [0, 4, 7];

function twiceAsDense(log: string): string {
  const [headings = '', ...lines] = log.trim().split('\n');
  const rows = lines.map((line) => line.split(','));
  const dense = rows.flatMap((row, i) => {
    const half = (cells: readonly string[]) =>
      cells.map((cell, k) => (k === DISTANCE ? String(Number(cell) / 2) : cell)).join(',');
    const next = rows[i + 1];
    const isDriven = next !== undefined && Number(next[TIME]) - Number(row[TIME]) <= 1;
    return isDriven
      ? [half(row), half(row.map((cell, k) => between(cell, next[k] ?? cell, k)))]
      : [half(row)];
  });
  return `${[headings, ...dense].join('\n')}\n`;
}

function between(cell: string, next: string, column: number): string {
  return column === HEADER ? cell : String((Number(cell) + Number(next)) / 2);
}
