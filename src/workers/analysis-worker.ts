import { expose } from 'comlink';
import { analyseTrial } from '../pipeline/analyse-trial.ts';
import type { InputFile, Progress } from '../pipeline/input-file.ts';
import { layoutReading } from '../pipeline/layout-reading.ts';
import { type Expectations, planOfTrial } from '../pipeline/replicate-plan.ts';
import { keepingAnswers, takeFiles } from '../pipeline/trial-from-files.ts';
import { trialWithLayout } from '../pipeline/trial-with-layout.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What the page may ask of the worker. Progress comes back through a proxied function. */
const jobs = {
  analyse(trial: TrialDocument, files: readonly InputFile[], onProgress: (progress: Progress) => void) {
    return analyseTrial(trial, files, { onProgress });
  },

  /** What the files mean for this trial; what was answered about a file before stays with it. */
  async take(trial: TrialDocument, files: readonly InputFile[]) {
    const taken = await takeFiles(files);
    return { ...taken, commands: taken.commands.map((command) => keepingAnswers(trial, command)) };
  },

  /** The trial with the strips of its layout file, where it holds none itself. */
  layOut(trial: TrialDocument, files: readonly InputFile[]) {
    return trialWithLayout(trial, files);
  },

  /** What the properties of the layout file are called, and which became what. */
  layoutReading(trial: TrialDocument, files: readonly InputFile[]) {
    return layoutReading(trial, files);
  },

  /** Are there enough replicates? */
  plan(trial: TrialDocument, expected: Expectations) {
    return planOfTrial(trial, expected);
  },
};

export type AnalysisJobs = typeof jobs;

expose(jobs);
