import { fork } from 'node:child_process';
import { buildPrograms } from '../build-program.mjs';

/**
 * The long form of the fuzz test: 100,000 mutated inputs over every reader, in batches. Each batch runs in a child
 * process; one that has not answered within 20 s hangs, is ended and named by its seed. Ends with 1 on any fault.
 *
 *   node tests/intake/fuzz-long.mjs [inputs] [first seed]
 */
const INPUTS = Number(process.argv[2] ?? 100_000);
const FIRST_SEED = Number(process.argv[3] ?? 1);
const RUNS_A_BATCH = 250;
const WATCHDOG_MS = 20_000;
const CHILDREN = 2;

const { 'fuzz-batch': batchProgram } = await buildPrograms('dist/fuzz', ['tests/intake/fuzz-batch.ts']);

const batches = Math.ceil(INPUTS / RUNS_A_BATCH);
const faults = [];
let [next, done, inputs] = [0, 0, 0];

function startChild() {
  const child = fork(batchProgram, { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  return new Promise((resolve, reject) => {
    child.once('message', () => resolve(child));
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`the batch process ended with ${code} before it began`)));
  });
}

function runBatch(child, seed) {
  return new Promise((resolve) => {
    const end = (outcome) => {
      clearTimeout(watchdog);
      child.removeAllListeners('message').removeAllListeners('exit');
      resolve(outcome);
    };
    const watchdog = setTimeout(() => {
      child.kill('SIGKILL');
      end({ seed, runs: 0, fault: `no answer within ${WATCHDOG_MS / 1000} s`, isOver: true });
    }, WATCHDOG_MS);
    child.once('exit', (code) => end({ seed, runs: 0, fault: `crashed with ${code}`, isOver: true }));
    child.once('message', (outcome) => end({ ...outcome, isOver: false }));
    child.send({ seed, runs: RUNS_A_BATCH });
  });
}

async function work() {
  let child = await startChild();
  while (next < batches) {
    const seed = FIRST_SEED + next;
    next += 1;
    const outcome = await runBatch(child, seed);
    if (outcome.isOver) child = await startChild();
    if (outcome.fault !== null) {
      faults.push(outcome);
      process.stderr.write(`seed ${seed}: ${outcome.fault}\n${JSON.stringify(outcome.example ?? null)}\n`);
    }
    done += 1;
    inputs += outcome.runs;
    if (done % 40 === 0)
      process.stdout.write(`${inputs} inputs in ${done} of ${batches} batches, ${faults.length} faults\n`);
  }
  child.removeAllListeners('exit');
  child.kill();
}

await Promise.all(Array.from({ length: CHILDREN }, work));
process.stdout.write(`${inputs} mutated inputs over every reader, ${faults.length} faults\n`);
process.exitCode = faults.length === 0 ? 0 : 1;
