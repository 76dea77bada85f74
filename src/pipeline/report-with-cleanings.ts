import { withCleanings } from '../findings/cleanings-in-report.ts';
import type { ReportModel } from '../findings/report-model.ts';
import { reportProblems } from '../findings/report-problems.ts';
import { lengthUnit } from '../trial/display-units.ts';
import { problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { CleaningGrid } from './cleaning-grid.ts';
import { cleaningTurns } from './cleaning-turns.ts';
import { cleaningsOfTrial } from './cleanings-of-trial.ts';
import type { Harvested } from './harvest-of.ts';
import type { InputFile, PipelineControl } from './input-file.ts';

/** Up to so many points every report is judged under all cleanings; beyond, the wait would be felt. */
const MOST_POINTS = 20_000;

/**
 * The report with the answer to "does the cleaning decide?", wherever yield points lie behind it. Where it was not
 * tried a note says so.
 */
export async function reportWithCleanings(
  report: ReportModel,
  trial: TrialDocument,
  { placed, weighed }: Harvested,
  files: readonly InputFile[],
  control: PipelineControl,
): Promise<ReportModel> {
  const points = placed?.strip.length ?? 0;
  const yields = report.responses.find(({ name }) => name === 'yield');
  // What a scale said of single strips or treatments hangs on no screen.
  if (weighed?.loads.some(({ use }) => use !== 'level')) return report;
  if (points === 0 || yields === undefined || yields.answers.length === 0) return report;
  if (weighed !== null || trial.inference.scale) return withNote(report, 'cleaningsNotComparable', {});
  if (points > MOST_POINTS && control.cleanings !== 'always')
    return withNote(report, 'cleaningsNotTried', { points, most: MOST_POINTS });
  const found = await cleaningsOfTrial(trial, files, control);
  const grid = found.ok ? found.value : null;
  if (grid === null)
    return control.isCancelled?.() === true ? report : withNote(report, 'cleaningsNotComparable', {});
  return (
    withCleanings(report, figuresOf(grid), cleaningTurns(grid, lengthUnit(trial.unitSystem))) ??
    withNote(report, 'cleaningsNotComparable', {})
  );
}

function figuresOf({ results, judged, comparisons }: CleaningGrid): Parameters<typeof withCleanings>[1] {
  return {
    tried: results.length,
    judged,
    comparisons: comparisons.map(({ a, b, own, least, most, differenceFlips, moneyFlips }) => ({
      a,
      b,
      difference: own.difference,
      money: own.money,
      least,
      most,
      differenceFlips,
      moneyFlips,
    })),
  };
}

function withNote(report: ReportModel, code: string, details: Readonly<Record<string, number>>): ReportModel {
  const note = reportProblems([problem('note', code, {}, details)]);
  return { ...report, problems: [...report.problems, ...note] };
}
