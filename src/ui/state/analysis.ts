import { computed, effect, signal } from '@preact/signals-core';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { Progress } from '../../pipeline/input-file.ts';
import { filesNamed } from '../../trial/files-named.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { announcement, files, type OpenedFile, trial } from './session.ts';

/** How the analysis of the trial as it stands is getting on. `last` is the newest finished run, kept meanwhile. */
export interface AnalysisState {
  readonly stage: 'nothing' | 'running' | 'done' | 'cancelled' | 'failed';
  readonly progress: Progress | null;
  readonly last: AnalysisRun | null;
  readonly reason: string | null;
}

const NOTHING: AnalysisState = { stage: 'nothing', progress: null, last: null, reason: null };
/** Waits for a pause between edits, so that typing three figures runs one analysis. Files that are opened wait for nothing. */
const PAUSE_MS = 120;

export const analysis = signal<AnalysisState>(NOTHING);
/** Who reads these is not drawn again for each step of the progress. */
export const lastRun = computed(() => analysis.value.last);
export const isAnalysing = computed(() => analysis.value.stage === 'running');
/** It has been running for longer than passes unnoticed. */
export const isAnalysisSlow = signal(false);
const UNNOTICED_MS = 500;

/** The one worker that holds the trial's files; whoever asks it for work ends what it was at. */
export const analysisBench = new BackgroundAnalysis();
/** An edit waits for its analysis to begin. */
const isDue = signal(false);
let waiting: ReturnType<typeof setTimeout> | undefined;
let slow: ReturnType<typeof setTimeout> | undefined;

/** From now on each change of trial or files starts the analysis anew. */
export function keepAnalysisCurrent(): () => void {
  let before: readonly OpenedFile[] = [];
  return effect(() => {
    const current = trial.value;
    const opened = files.value;
    clearTimeout(waiting);
    const pauseMs = opened === before ? PAUSE_MS : 0;
    before = opened;
    isDue.value = current !== null;
    if (current === null) {
      analysisBench.cancel();
      analysis.value = NOTHING;
      return;
    }
    waiting = setTimeout(() => {
      void runAnalysis(current, opened);
      isDue.value = false;
    }, pauseMs);
  });
}

/** Is the answer to the last edit still to come? Other work waits for it, since it would be ended by it. */
export function isAnswerDue(): boolean {
  return isDue.value || analysis.value.stage === 'running';
}

export function answerAtRest(): Promise<void> {
  return new Promise((resolve) => {
    const stop = effect(() => {
      if (isAnswerDue()) return;
      queueMicrotask(() => {
        stop();
        resolve();
      });
    });
  });
}

export function runAgain(): void {
  const current = trial.peek();
  if (current !== null) void runAnalysis(current, files.peek());
}

export function cancelAnalysis(): void {
  analysisBench.cancel();
  analysis.value = { ...analysis.peek(), stage: 'cancelled', progress: null };
  announcement.value = 'The analysis was stopped.';
}

async function runAnalysis(current: TrialDocument, opened: readonly OpenedFile[]): Promise<void> {
  analysis.value = { ...analysis.peek(), stage: 'running', progress: null, reason: null };
  clearTimeout(slow);
  isAnalysisSlow.value = false;
  slow = setTimeout(() => {
    isAnalysisSlow.value = analysis.peek().stage === 'running';
  }, UNNOTICED_MS);
  try {
    const outcome = await analysisBench.analyse(current, filesInOrder(current, opened), (progress) => {
      analysis.value = { ...analysis.peek(), progress };
    });
    if (outcome === 'cancelled') return;
    analysis.value = { stage: 'done', progress: null, last: outcome, reason: null };
    announcement.value = 'The analysis is up to date.';
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    analysis.value = { stage: 'failed', progress: null, last: null, reason };
  }
}

/**
 * The report lists files as they come: as the document names them, as the command line does. The others follow, since a
 * shapefile named by its .shp comes in several parts.
 */
export function filesInOrder(current: TrialDocument, opened: readonly OpenedFile[]): readonly OpenedFile[] {
  const named = filesNamed(current).flatMap((path) => opened.find(({ name }) => name === path) ?? []);
  return [...named, ...opened.filter((file) => !named.includes(file))];
}
