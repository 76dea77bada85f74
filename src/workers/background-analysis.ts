import { proxy } from 'comlink';
import type { LagEstimate } from '../harvest/estimate-lag.ts';
import type { PointFacts } from '../harvest/point-facts.ts';
import type { LayoutMoveAnswer } from '../harvest/propose-layout-move.ts';
import type { PlacedPoints } from '../harvest/strip-values.ts';
import type { AnalysisRun, FieldDrawing } from '../pipeline/analyse-trial.ts';
import type { CleaningGrid } from '../pipeline/cleaning-grid.ts';
import type { Progress } from '../pipeline/input-file.ts';
import type { LayoutReading } from '../pipeline/layout-reading.ts';
import type { Expectations } from '../pipeline/replicate-plan.ts';
import type { FilesTaken } from '../pipeline/trial-from-files.ts';
import type { EnoughReplicates } from '../planning/enough-replicates.ts';
import type { ExclusionArea } from '../trial/exclusion-area.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { AnalysisSent } from './analysis-worker.ts';
import { isLong, type SentFile } from './sent-file.ts';
import { restBench, takeBench, type WorkerBench } from './worker-bench.ts';

/**
 * Reading and analysing off the main thread, one piece of work at a time. A new piece of work, or `cancel`, ends
 * the one under way by ending its worker; call numbers make sure that nothing of the old one arrives later. Work whose
 * files are read and placed is not ended by a newer one, since the newer takes over what it has kept. A worker that holds
 * no files goes back to those at rest once its work is done.
 */
export class BackgroundAnalysis {
  #bench: WorkerBench | null = null;
  #call = 0;
  #giveUp: (() => void) | null = null;
  #isPlaced = false;

  /** 'cancelled' where `cancel` or a newer call came first. */
  async analyse(
    trial: TrialDocument,
    files: readonly SentFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<AnalysisRun | 'cancelled'> {
    return this.#run(async (bench, isCurrent) => {
      const passOn = whileCurrent(isCurrent, (progress) => {
        this.#isPlaced = progress.stage === 'analysing';
        onProgress(progress);
      });
      await holdFiles(bench, files);
      return withPoints(bench, await bench.jobs.analyse(trial, passOn));
    });
  }

  async estimateLag(
    trial: TrialDocument,
    files: readonly SentFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<readonly LagEstimate[]> | 'cancelled'> {
    return this.#run(async (bench, isCurrent) => {
      await holdFiles(bench, files);
      return bench.jobs.estimateLag(trial, whileCurrent(isCurrent, onProgress));
    });
  }

  async layoutMove(
    trial: TrialDocument,
    files: readonly SentFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<LayoutMoveAnswer> | 'cancelled'> {
    return this.#run(async (bench, isCurrent) => {
      await holdFiles(bench, files);
      return bench.jobs.layoutMove(trial, whileCurrent(isCurrent, onProgress));
    });
  }

  /** The points where there are no strips yet. */
  async bareField(
    trial: TrialDocument,
    files: readonly SentFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<FieldDrawing | null> | 'cancelled'> {
    return this.#run(async (bench, isCurrent) => {
      await holdFiles(bench, files);
      const found = await bench.jobs.bareField(trial, whileCurrent(isCurrent, onProgress));
      bench.barePoints = found.ok ? (found.value?.points ?? null) : null;
      return found;
    });
  }

  /** Does the cleaning decide? */
  async cleanings(
    trial: TrialDocument,
    files: readonly SentFile[],
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<CleaningGrid | null> | 'cancelled'> {
    return this.#run(async (bench, isCurrent) => {
      await holdFiles(bench, files);
      return bench.jobs.cleanings(trial, whileCurrent(isCurrent, onProgress));
    });
  }

  async take(trial: TrialDocument, files: readonly SentFile[]): Promise<FilesTaken | 'cancelled'> {
    return this.#run(({ jobs }) => jobs.take(trial, files));
  }

  async layOut(
    trial: TrialDocument,
    files: readonly SentFile[],
  ): Promise<Outcome<TrialDocument> | 'cancelled'> {
    return this.#run(async ({ jobs }) => jobs.layOut(trial, files));
  }

  async areas(
    trial: TrialDocument,
    files: readonly SentFile[],
  ): Promise<Outcome<readonly ExclusionArea[]> | 'cancelled'> {
    return this.#run(async ({ jobs }) => jobs.areas(trial, files));
  }

  async layoutReading(
    trial: TrialDocument,
    files: readonly SentFile[],
  ): Promise<LayoutReading | null | 'cancelled'> {
    return this.#run(({ jobs }) => jobs.layoutReading(trial, files));
  }

  async plan(trial: TrialDocument, expected: Expectations): Promise<EnoughReplicates | null | 'cancelled'> {
    return this.#run(async ({ jobs }) => jobs.plan(trial, expected));
  }

  /** Of one of the points that were sent last; asked beside other work, which it neither ends nor waits for. */
  async pointFacts(points: PlacedPoints, index: number): Promise<PointFacts | null> {
    const bench = this.#bench;
    if (bench?.points === points) return bench.jobs.pointFacts(index);
    return bench?.barePoints === points ? bench.jobs.barePointFacts(index) : null;
  }

  cancel(): void {
    this.#isPlaced = false;
    this.#supersede();
  }

  /** Gives the worker up too. */
  close(): void {
    this.cancel();
    if (this.#bench !== null) restBench(this.#bench);
    this.#bench = null;
  }

  /** The call under way counts no more; its worker ends with it, unless only the answer is left to work out. */
  #supersede(): void {
    this.#call += 1;
    if (this.#giveUp === null) return;
    this.#giveUp();
    this.#giveUp = null;
    if (this.#isPlaced) return;
    this.#bench?.worker.terminate();
    this.#bench = null;
  }

  #giveBack(bench: WorkerBench): void {
    if (bench.held !== null) return;
    restBench(bench);
    this.#bench = null;
  }

  async #run<T>(
    work: (bench: WorkerBench, isCurrent: () => boolean) => Promise<T>,
  ): Promise<T | 'cancelled'> {
    this.#supersede();
    const call = this.#call;
    let isDone = false;
    // Progress comes by a port of its own and may arrive after the result.
    const isCurrent = () => call === this.#call && !isDone;
    this.#bench ??= takeBench();
    const bench = this.#bench;
    const stopped = new Promise<'cancelled'>((resolve) => {
      this.#giveUp = () => resolve('cancelled');
    });
    try {
      const outcome = await Promise.race([work(bench, isCurrent), stopped, bench.broken]);
      if (!isCurrent()) return 'cancelled';
      this.#giveBack(bench);
      return outcome;
    } catch (error) {
      if (!isCurrent()) return 'cancelled';
      // Whatever state the fault left the worker in, the next work begins with another.
      bench.worker.terminate();
      this.#bench = null;
      throw error;
    } finally {
      if (isCurrent()) this.#giveUp = null;
      isDone = true;
    }
  }
}

function whileCurrent(isCurrent: () => boolean, onProgress: (progress: Progress) => void) {
  return proxy((progress: Progress) => {
    if (isCurrent()) onProgress(progress);
  });
}

async function holdFiles(bench: WorkerBench, files: readonly SentFile[]): Promise<void> {
  const { held } = bench;
  const isHeld =
    held?.length === files.length &&
    files.every(({ name, bytes }, index) => held[index]?.name === name && held[index].bytes === bytes);
  if (isHeld) return;
  bench.held = files;
  const digests = digestedAside(files);
  await bench.jobs.hold(
    files,
    proxy(async (index) => (await digests)[index] ?? null),
  );
}

/** By another worker, while the files are analysed; null where it is not known. */
async function digestedAside(files: readonly SentFile[]): Promise<readonly (string | null)[]> {
  if (!files.some(isLong)) return files.map(() => null);
  const aside = takeBench();
  try {
    const digests = await Promise.race([aside.jobs.digests(files), aside.broken]);
    restBench(aside);
    return digests;
  } catch {
    // Who reads the files says what is wrong with them.
    aside.worker.terminate();
    return files.map(() => null);
  }
}

function withPoints(bench: WorkerBench, { run, pointsAsBefore }: AnalysisSent): AnalysisRun {
  if (!pointsAsBefore) {
    bench.points = run.field?.points ?? null;
    return run;
  }
  return run.field === null ? run : { ...run, field: { ...run.field, points: bench.points } };
}
