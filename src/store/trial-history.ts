import { applyCommand, type TrialCommand } from '../trial/commands.ts';
import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** What was done to the trial, step by step; the newest step of `past` is last, of `future` first. */
export interface TrialHistory {
  readonly past: readonly Step[];
  readonly present: TrialDocument;
  readonly future: readonly Step[];
}

/** One edit that can be taken back: the document on the other side of it, and the edit's name. */
export interface Step {
  readonly trial: TrialDocument;
  readonly edit: TrialCommand['name'];
}

const STEPS_KEPT = 200;

export function startHistory(trial: TrialDocument): TrialHistory {
  return { past: [], present: trial, future: [] };
}

/**
 * Applies commands as one step. All of them or none: the first that cannot be applied leaves the history as it
 * was and says why. Commands that change nothing leave no step behind.
 */
export function edit(history: TrialHistory, commands: readonly TrialCommand[]): Outcome<TrialHistory> {
  let trial = history.present;
  for (const command of commands) {
    const outcome = applyCommand(trial, command);
    if (!outcome.ok) return outcome;
    trial = outcome.value;
  }
  const last = commands.at(-1);
  if (last === undefined || sameText(trial, history.present)) return success(history);
  const past = [...history.past, { trial: history.present, edit: last.name }].slice(-STEPS_KEPT);
  return success({ past, present: trial, future: [] });
}

export function undo(history: TrialHistory): TrialHistory {
  const step = history.past.at(-1);
  if (step === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: keepStamp(step.trial, history.present),
    future: [{ trial: history.present, edit: step.edit }, ...history.future],
  };
}

export function redo(history: TrialHistory): TrialHistory {
  const step = history.future[0];
  if (step === undefined) return history;
  return {
    past: [...history.past, { trial: history.present, edit: step.edit }],
    present: keepStamp(step.trial, history.present),
    future: history.future.slice(1),
  };
}

/**
 * Undo must not take the stamp off: harvest data, once seen, have been seen, and settings changed after that are
 * listed whichever way the user went back.
 */
function keepStamp(trial: TrialDocument, left: TrialDocument): TrialDocument {
  return trial.stamp === null && left.stamp !== null ? { ...trial, stamp: left.stamp } : trial;
}

function sameText(a: TrialDocument, b: TrialDocument): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
