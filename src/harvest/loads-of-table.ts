import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { handStripFinder } from './hand-strip.ts';
import type { HandHarvestInput, HandSampleInput } from './harvest-input.ts';
import type { ScaleLoad } from './scale-weights.ts';

export interface LoadsOfTable {
  readonly loads: readonly ScaleLoad[];
  readonly problems: readonly Problem[];
}

/** Between the strips of one load: "S3 + S7", "S3; S7", "S3, S7". */
const BETWEEN_STRIPS = /\s*[;,+]\s*/;

/**
 * Which loads does a table of scale weights hold? One a row; the strip's cell may name several strips. A row that
 * fits no strip, or has no weight, is a named problem and is left out.
 */
export function loadsOfTable(trial: TrialDocument, { file, samples }: HandHarvestInput): LoadsOfTable {
  const findStrip = handStripFinder(trial, file);
  const ids = new Set(trial.strips.map(({ id }) => id.trim().toLowerCase()));
  const loads: ScaleLoad[] = [];
  const problems: Problem[] = [];
  for (const sample of samples) {
    const found = rowsOf(sample, ids).map(findStrip);
    const faults = found.filter((strip) => 'code' in strip);
    const { row, weightKg, moisturePercent } = sample;
    if (faults.length > 0) problems.push(...faults);
    else if (weightKg === null) problems.push(problem('warning', 'loadWithoutWeight', { file, row }));
    else
      loads.push({
        strips: found.flatMap((strip) => ('id' in strip ? strip.id : [])),
        weightKg,
        moisturePercent,
      });
  }
  return { loads, problems };
}

/** The row once for each strip that it names. A name that holds a comma and is a strip's own stays whole. */
function rowsOf(sample: HandSampleInput, ids: ReadonlySet<string>): readonly HandSampleInput[] {
  const { strip } = sample;
  if (strip === null || ids.has(strip.trim().toLowerCase())) return [sample];
  return strip
    .split(BETWEEN_STRIPS)
    .filter((part) => part !== '')
    .map((part) => ({ ...sample, strip: part }));
}
