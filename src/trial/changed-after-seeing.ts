import type { TrialDocument } from './trial-document.ts';

/** A setting that moved after harvest data had been opened; it weakens the answer and is printed on the handout. */
export interface LateChange {
  readonly path: string;
  readonly before: string;
  readonly now: string;
}

/** Compares what decides the answer (level, procedure, comparisons, margin, cleaning) with the stamp. Money is free to move. */
export function changedAfterSeeing(trial: TrialDocument): readonly LateChange[] {
  if (trial.stamp === null) return [];
  return [
    ...changes('inference', trial.stamp.inference, trial.inference),
    ...changes('harvest', trial.stamp.harvest, trial.harvest),
  ];
}

function changes(path: string, before: Record<string, unknown>, now: Record<string, unknown>): LateChange[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(now)])].sort();
  return keys.flatMap((key) => {
    const was = JSON.stringify(before[key] ?? null);
    const is = JSON.stringify(now[key] ?? null);
    return was === is ? [] : [{ path: `${path}.${key}`, before: was, now: is }];
  });
}
