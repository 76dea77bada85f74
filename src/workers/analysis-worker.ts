import { expose, transfer } from 'comlink';
import type { PlacedPoints } from '../harvest/strip-values.ts';

import { type AnalysisRun, analyseTrial, type FieldDrawing } from '../pipeline/analyse-trial.ts';
import { areasOfFiles } from '../pipeline/areas-of-files.ts';
import { type BareField, bareField } from '../pipeline/bare-field.ts';

import { cleaningsOfTrial } from '../pipeline/cleanings-of-trial.ts';
import type { Progress } from '../pipeline/input-file.ts';
import { keptFactsOfPoint } from '../pipeline/kept-point-facts.ts';
import { KeptWork } from '../pipeline/kept-work.ts';
import { lagOfTrial } from '../pipeline/lag-of-trial.ts';
import { layoutMoveOfTrial } from '../pipeline/layout-move-of-trial.ts';
import { layoutReading } from '../pipeline/layout-reading.ts';
import { type Expectations, planOfTrial } from '../pipeline/replicate-plan.ts';
import { keepingAnswers, takeFiles } from '../pipeline/trial-from-files.ts';
import { trialWithLayout } from '../pipeline/trial-with-layout.ts';
import type { Outcome } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import {
  type DigestAsked,
  digestsOf,
  type HeldFile,
  heldFiles,
  receivedFile,
  type SentFile,
} from './sent-file.ts';

let held: readonly HeldFile[] = [];
let kept = new KeptWork();
let sentPoints: PlacedPoints | null = null;
let factsOfBarePoint: BareField['factsOfPoint'] | null = null;

export interface AnalysisSent {
  readonly run: AnalysisRun;
  /** `run.field.points` is null, and means those of the run before. */
  readonly pointsAsBefore: boolean;
}

/** What the page may ask of the worker. Progress comes back through a proxied function. */
const jobs = {
  /** The files that later work is about; what was kept of others goes. */
  async hold(files: readonly SentFile[], digestAsked: DigestAsked): Promise<void> {
    held = await heldFiles(files, digestAsked);
    kept = new KeptWork();
    factsOfBarePoint = null;
  },

  /** Of files that another worker reads and analyses meanwhile. */
  digests(files: readonly SentFile[]) {
    return digestsOf(files);
  },

  /** Of the files held. Points that were sent before are not sent again. */
  async analyse(trial: TrialDocument, onProgress: (progress: Progress) => void): Promise<AnalysisSent> {
    const run = await ofHeld((files) => analyseTrial(trial, files, { onProgress, kept }));
    const points = run.field?.points ?? null;
    if (run.field === null || points === null) {
      sentPoints = points;
      return { run, pointsAsBefore: false };
    }
    if (points !== sentPoints) {
      sentPoints = points;
      return sentWithPoints(run, run.field, points);
    }
    return { run: { ...run, field: { ...run.field, points: null } }, pointsAsBefore: true };
  },

  /** What the files mean for this trial; what was answered about a file before stays with it. */
  async take(trial: TrialDocument, files: readonly SentFile[]) {
    const taken = await takeFiles(files.map(receivedFile));
    return { ...taken, commands: taken.commands.map((command) => keepingAnswers(trial, command)) };
  },

  /** The trial with the strips of its layout file, where it holds none itself. */
  layOut(trial: TrialDocument, files: readonly SentFile[]) {
    return trialWithLayout(trial, files.map(receivedFile));
  },

  /** Areas to leave out, of files of polygons. */
  areas(trial: TrialDocument, files: readonly SentFile[]) {
    return areasOfFiles(trial, files.map(receivedFile));
  },

  /** By how many seconds the signal of each point file held is late. */
  estimateLag(trial: TrialDocument, onProgress: (progress: Progress) => void) {
    return ofHeld((files) => lagOfTrial(trial, files, { onProgress, kept }));
  },

  /** Where the layout should lie by the passes of the point files held. */
  layoutMove(trial: TrialDocument, onProgress: (progress: Progress) => void) {
    return ofHeld((files) => layoutMoveOfTrial(trial, files, { onProgress, kept }));
  },

  /** The points of the files held, where there are no strips yet. */
  bareField(trial: TrialDocument, onProgress: (progress: Progress) => void) {
    return ofHeld(async (files): Promise<Outcome<FieldDrawing | null>> => {
      const found = await bareField(trial, files, { onProgress, kept });
      factsOfBarePoint = found.ok ? (found.value?.factsOfPoint ?? null) : null;
      return found.ok ? { ...found, value: found.value?.field ?? null } : found;
    });
  },

  /** What the file says of one of the points without strips that were sent last. */
  barePointFacts(index: number) {
    return factsOfBarePoint?.(index) ?? null;
  },

  /** Does the cleaning decide? Of the files held. */
  cleanings(trial: TrialDocument, onProgress: (progress: Progress) => void) {
    return ofHeld((files) => cleaningsOfTrial(trial, files, { onProgress, kept }));
  },

  /** All that is known of one of the points that were sent last; null where they are no longer those at hand. */
  pointFacts(index: number) {
    return sentPoints === null ? null : keptFactsOfPoint(kept, sentPoints, index);
  },

  /** What the properties of the layout file are called, and which became what. */
  layoutReading(trial: TrialDocument, files: readonly SentFile[]) {
    return layoutReading(trial, files.map(receivedFile));
  },

  /** Are there enough replicates? */
  plan(trial: TrialDocument, expected: Expectations) {
    return planOfTrial(trial, expected);
  },
};

/** What came of the files is kept, so that what was read ahead of them need not be. */
async function ofHeld<T>(work: (files: readonly HeldFile[]) => Promise<T>): Promise<T> {
  try {
    return await work(held);
  } finally {
    for (const file of held) file.letGo();
  }
}

/** A copy of the points is handed over, not cloned on arrival, since the page's own thread would do the cloning. */
function sentWithPoints(run: AnalysisRun, field: FieldDrawing, points: PlacedPoints): AnalysisSent {
  const handed: PlacedPoints = {
    eastM: points.eastM.slice(),
    northM: points.northM.slice(),
    yieldKgPerHa: points.yieldKgPerHa.slice(),
    strip: points.strip.slice(),
    reason: points.reason.slice(),
  };
  const sent = { run: { ...run, field: { ...field, points: handed } }, pointsAsBefore: false };
  return transfer(
    sent,
    Object.values(handed).map(({ buffer }) => buffer),
  );
}

export type AnalysisJobs = typeof jobs;

expose(jobs);
