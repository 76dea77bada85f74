import { type Remote, wrap } from 'comlink';
import type { PlacedPoints } from '../harvest/strip-values.ts';
import type { AnalysisJobs } from './analysis-worker.ts';
import type { SentFile } from './sent-file.ts';

/** A worker, and what is known of it. */
export interface WorkerBench {
  /** What this worker holds: files are sent to it once, and points come back from it once. */
  held: readonly SentFile[] | null;
  points: PlacedPoints | null;
  /** Those without strips. */
  barePoints: PlacedPoints | null;
  readonly worker: Worker;
  readonly jobs: Remote<AnalysisJobs>;
  /** Never comes true; fails when the worker cannot start, since then it answers no call. */
  readonly broken: Promise<never>;
}

/** One for what is opened and asked in passing, one for the analysis. */
const MOST_AT_REST = 2;

/** Started, without files and without work, since starting takes a good part of a small analysis; last used, last. */
const atRest: WorkerBench[] = [];

/** Starts workers before they are asked for. */
export function readyBenches(): void {
  while (atRest.length < MOST_AT_REST) atRest.push(openBench());
}

export function takeBench(): WorkerBench {
  return atRest.pop() ?? openBench();
}

/** Given back; one that holds files holds their memory too, and ends. */
export function restBench(bench: WorkerBench): void {
  if (bench.held === null && atRest.length < MOST_AT_REST) atRest.push(bench);
  else bench.worker.terminate();
}

function openBench(): WorkerBench {
  const worker = new Worker(new URL('./analysis-worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, reject) => {
    worker.addEventListener('error', (event) => reject(new Error(event.message || 'the worker stopped')));
  });
  const bench = {
    worker,
    jobs: wrap<AnalysisJobs>(worker),
    broken,
    held: null,
    points: null,
    barePoints: null,
  };
  broken.catch(() => {
    const place = atRest.indexOf(bench);
    if (place >= 0) atRest.splice(place, 1);
  });
  return bench;
}
