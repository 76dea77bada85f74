import { mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { type CellResult, resultOf } from './cell-result.ts';
import { type Cell, everyCell } from './cells.ts';
import { calibrationTables } from './tables.ts';

export interface CalibrationRun {
  /** This very program, for the workers. */
  readonly program: URL;
  /** Results go here. */
  readonly folder: string;
  readonly trials: number;
}

/** Power is to be met within 0.01, so its trials leave a standard error of at most 0.0022. */
const MORE_FOR_POWER = 2.5;

interface Order {
  readonly cell: Cell;
  readonly trials: number;
}

if (!isMainThread) {
  const port = parentPort;
  port?.on('message', ({ cell, trials }: Order) => port.postMessage(resultOf(cell, trials)));
}

/** Simulates every cell on all cores, writes the results and prints the tables. Gives the exit code. */
export async function runCalibration({ program, folder, trials }: CalibrationRun): Promise<number> {
  if (!(Number.isInteger(trials) && trials > 0))
    throw new RangeError(`trials of a cell: expected a whole number, got ${trials}`);
  const began = performance.now();
  const orders = everyCell().map(
    (cell): Order => ({
      cell,
      trials: cell.question === 'power' ? Math.ceil(MORE_FOR_POWER * trials) : trials,
    }),
  );
  const results = await simulateAll(orders, program);
  const seconds = Math.round((performance.now() - began) / 1000);
  const tables = calibrationTables(results);
  mkdirSync(folder, { recursive: true });
  for (const question of ['falseReal', 'power', 'verdicts'] as const)
    writeFileSync(join(folder, `${question}.json`), asJson(results, question));
  writeFileSync(join(folder, 'tables.md'), tables);
  console.log(tables);
  return verdict(results, seconds);
}

/** Largest cells first, so that no core waits long for the last. */
async function simulateAll(orders: readonly Order[], program: URL): Promise<CellResult[]> {
  const results = new Array<CellResult>(orders.length);
  const size = ({ cell, trials }: Order) => trials * cell.blocks * cell.treatments ** 2;
  const waiting = orders.map((_, i) => i).sort((i, j) => size(orders[i]!) - size(orders[j]!));
  const work = async () => {
    const worker = new Worker(program);
    for (let i = waiting.pop(); i !== undefined; i = waiting.pop()) {
      results[i] = await answered(worker, orders[i]!);
      if (waiting.length % 20 === 0) console.error(`calibrate: ${waiting.length} cells to go`);
    }
    await worker.terminate();
  };
  await Promise.all(Array.from({ length: availableParallelism() }, work));
  return results;
}

function answered(worker: Worker, order: Order): Promise<CellResult> {
  return new Promise((resolve, reject) => {
    worker.once('message', (result: CellResult) => {
      worker.removeListener('error', reject);
      resolve(result);
    });
    worker.once('error', reject);
    worker.postMessage(order);
  });
}

function asJson(results: readonly CellResult[], question: Cell['question']): string {
  const own = results.filter(({ cell }) => cell.question === question);
  return `${JSON.stringify(own, null, 1)}\n`;
}

function verdict(results: readonly CellResult[], seconds: number): number {
  const trials = results.reduce((sum, own) => sum + own.trials, 0);
  const claims = results.flatMap(({ rates }) => rates).filter(({ claim }) => claim !== null).length;
  const repeated = results.filter((own) => own.repeated);
  const failed = results.flatMap(({ cell, rates, trials: drawn }) =>
    rates.filter(({ holds }) => !holds).map((rate) => ({ cell, rate, drawn })),
  );
  for (const { cell } of repeated)
    console.log(
      `ten times as many trials: ${cell.group}, ${cell.treatments} treatments, ${cell.blocks} blocks`,
    );
  for (const { cell, rate, drawn } of failed)
    console.log(
      `FAILED ${cell.group}, ${cell.treatments} treatments, ${cell.blocks} blocks: ${rate.what} is ${rate.share}, claimed ${rate.claim?.rule} ${rate.claim?.share} (${drawn} trials, seed ${cell.seed})`,
    );
  console.log(
    `${results.length} cells, ${trials} trials, ${claims} claims, ${failed.length} failed, ${seconds} s`,
  );
  return failed.length === 0 ? 0 : 1;
}
