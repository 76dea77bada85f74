import { proxy, type Remote, wrap } from 'comlink';
import type { AnalysisRun } from '../pipeline/analyse-trial.ts';
import type { InputFile, Progress } from '../pipeline/input-file.ts';
import type { LayoutReading } from '../pipeline/layout-reading.ts';
import type { Expectations } from '../pipeline/replicate-plan.ts';
import type { FilesTaken } from '../pipeline/trial-from-files.ts';
import type { EnoughReplicates } from '../planning/enough-replicates.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { AnalysisJobs } from './analysis-worker.ts';

interface Bench {
  readonly worker: Worker;
  readonly jobs: Remote<AnalysisJobs>;
  /** Never comes true; fails when the worker cannot start, since then it answers no call. */
  readonly broken: Promise<never>;
}

/**
 * Reading and analysing off the main thread, one piece of work at a time. A new piece of work, or `cancel`, ends
 * the one under way by ending its worker; call numbers make sure that nothing of the old one arrives later.
 */
export class BackgroundAnalysis {
  #bench: Bench | null = null;
  #call = 0;
  #giveUp: (() => void) | null = null;

  /** 'cancelled' where `cancel` or a newer call came first. */
  async analyse(
    trial: TrialDocument,
    files: readonly InputFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<AnalysisRun | 'cancelled'> {
    return this.#run((jobs, isCurrent) =>
      jobs.analyse(
        trial,
        files,
        proxy((progress: Progress) => {
          if (isCurrent()) onProgress(progress);
        }),
      ),
    );
  }

  async take(trial: TrialDocument, files: readonly InputFile[]): Promise<FilesTaken | 'cancelled'> {
    return this.#run((jobs) => jobs.take(trial, files));
  }

  async layOut(
    trial: TrialDocument,
    files: readonly InputFile[],
  ): Promise<Outcome<TrialDocument> | 'cancelled'> {
    return this.#run(async (jobs) => jobs.layOut(trial, files));
  }

  async layoutReading(
    trial: TrialDocument,
    files: readonly InputFile[],
  ): Promise<LayoutReading | null | 'cancelled'> {
    return this.#run((jobs) => jobs.layoutReading(trial, files));
  }

  async plan(trial: TrialDocument, expected: Expectations): Promise<EnoughReplicates | null | 'cancelled'> {
    return this.#run(async (jobs) => jobs.plan(trial, expected));
  }

  cancel(): void {
    this.#call += 1;
    if (this.#giveUp === null) return;
    this.#giveUp();
    this.#giveUp = null;
    this.#bench?.worker.terminate();
    this.#bench = null;
  }

  /** Ends the worker too, also when it is at rest. */
  close(): void {
    this.cancel();
    this.#bench?.worker.terminate();
    this.#bench = null;
  }

  async #run<T>(
    work: (jobs: Remote<AnalysisJobs>, isCurrent: () => boolean) => Promise<T>,
  ): Promise<T | 'cancelled'> {
    this.cancel();
    const call = this.#call;
    const isCurrent = () => call === this.#call;
    this.#bench ??= openBench();
    const { jobs, broken } = this.#bench;
    const stopped = new Promise<'cancelled'>((resolve) => {
      this.#giveUp = () => resolve('cancelled');
    });
    try {
      const outcome = await Promise.race([work(jobs, isCurrent), stopped, broken]);
      return isCurrent() ? outcome : 'cancelled';
    } catch (error) {
      if (!isCurrent()) return 'cancelled';
      throw error;
    } finally {
      if (isCurrent()) this.#giveUp = null;
    }
  }
}

function openBench(): Bench {
  const worker = new Worker(new URL('./analysis-worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, reject) => {
    worker.addEventListener('error', (event) => reject(new Error(event.message || 'the worker stopped')));
  });
  broken.catch(() => undefined);
  return { worker, jobs: wrap<AnalysisJobs>(worker), broken };
}
