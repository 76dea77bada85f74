import * as v from 'valibot';
import { migrated } from './migrations.ts';
import { failure, type Outcome, problem, success } from './problem.ts';
import { referenceFaults } from './references.ts';
import { TRIAL_FORMAT, TRIAL_VERSION, type TrialDocument, trialDocumentSchema } from './trial-document.ts';

/**
 * Opens a trial document from its JSON text: is it one of ours, is it too new, bring it to this version, then
 * validate. Problems: `trialNotJson`, `trialNotOurs`, `trialTooNew`, `trialDamaged` (with the path of the fault).
 */
export function openTrial(text: string, file: string | null = null): Outcome<TrialDocument> {
  const parsed = parseJson(text);
  if (!parsed.ok) return failure(problem('error', 'trialNotJson', { file }, { reason: parsed.reason }));
  return openTrialValue(parsed.value, file);
}

export function openTrialValue(value: unknown, file: string | null = null): Outcome<TrialDocument> {
  if (!isRecord(value) || value.format !== TRIAL_FORMAT) {
    return failure(problem('error', 'trialNotOurs', { file }));
  }
  const version = value.version;
  if (typeof version === 'number' && version > TRIAL_VERSION) {
    return failure(problem('error', 'trialTooNew', { file }, { version, newestKnown: TRIAL_VERSION }));
  }
  return validateTrial(migrated(value), file);
}

/** Holds a value against the schema and its references; the first fault is named by its path. */
export function validateTrial(value: unknown, file: string | null = null): Outcome<TrialDocument> {
  const result = v.safeParse(trialDocumentSchema, value);
  if (!result.success) {
    const issue = result.issues[0];
    const path = v.getDotPath(issue) ?? '(whole document)';
    return failure(
      problem(
        'error',
        'trialDamaged',
        { file },
        { path, reason: issue.message, faults: result.issues.length },
      ),
    );
  }
  // The schema checks without rewriting, so what was read is itself the document, unknown fields included.
  const trial = value as TrialDocument;
  const faults = referenceFaults(trial);
  const fault = faults[0];
  if (fault !== undefined) {
    return failure(problem('error', 'trialDamaged', { file }, { ...fault, faults: faults.length }));
  }
  return success(trial);
}

/** The text that is kept: two spaces, a line end at the end; unknown fields stay where they were. */
export function trialText(trial: TrialDocument): string {
  return `${JSON.stringify(trial, null, 2)}\n`;
}

function parseJson(text: string): { ok: true; value: unknown } | { ok: false; reason: string } {
  try {
    return { ok: true, value: JSON.parse(text.replace(/^\uFEFF/, '')) };
  } catch (error) {
    return { ok: false, reason: error instanceof Error ? error.message : String(error) };
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
