import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

export interface ProcessUsage {
  readonly seconds: number;
  readonly processorSeconds: number;
  readonly peakMemoryMB: number;
  readonly out: string;
}

const RUNS = 3;

/** Runs a Node program some times in processes of their own and gives the run that used the processor least. */
export function measuredProcess(
  words: readonly string[],
  root: string,
  folder: string,
  times = RUNS,
): ProcessUsage {
  const runs = Array.from({ length: times }, () => measureOnce(words, root, folder));
  return runs.reduce((best, run) => (run.processorSeconds < best.processorSeconds ? run : best));
}

function measureOnce(words: readonly string[], root: string, folder: string): ProcessUsage {
  const usageFile = join(folder, 'usage.json');
  const began = performance.now();
  const ran = spawnSync(
    process.execPath,
    ['--import', join(root, 'tests/bench/usage-on-exit.mjs'), ...words],
    {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      env: { ...process.env, USAGE_FILE: usageFile },
    },
  );
  const seconds = (performance.now() - began) / 1000;
  if (ran.status !== 0)
    throw new Error(
      `${words.join(' ')} ended with ${ran.status}: ${ran.stderr} ${ran.stdout.slice(0, 2000)}`,
    );
  return { seconds, ...JSON.parse(readFileSync(usageFile, 'utf8')), out: ran.stdout };
}
