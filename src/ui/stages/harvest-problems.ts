import { html, nothing, type TemplateResult } from 'lit';
import type { ReportModel } from '../../findings/report-model.ts';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { HARVEST_ADVICE } from '../../words/harvest-advice.ts';
import { saidProblem } from '../notice-panel.ts';
import { isSameFile } from '../state/readiness.ts';

/** Of other rooms: they ask for files, or for what is said of files on this page. */
const ALSO_HERE: readonly string[] = ['noHarvest', 'machineCanBeTerm', 'machinesNotKnown'];

/** All that was noticed on the way from files to strip values, also what no single file has about it. */
export function harvestProblems(
  current: TrialDocument,
  run: AnalysisRun | null,
): TemplateResult | typeof nothing {
  const hasAreasSection = (run?.field?.points ?? null) !== null;
  const own = (run?.report.problems ?? []).filter(
    (problem) =>
      concernsHarvest(problem, current) && !(hasAreasSection && problem.code.startsWith('exclusion')),
  );
  if (own.length === 0) return nothing;
  return html`
    <section aria-labelledby="harvest-problems">
      <h2 id="harvest-problems">What was noticed in the harvest</h2>
      <ul class="problems">${own.map(saidProblem)}</ul>
    </section>
  `;
}

function concernsHarvest(
  { file, code }: ReportModel['problems'][number],
  { harvestFiles }: TrialDocument,
): boolean {
  const isOfFile = file !== null && harvestFiles.some(({ path }) => isSameFile(file, path));
  return (
    isOfFile || Object.hasOwn(HARVEST_ADVICE, code) || (harvestFiles.length > 0 && ALSO_HERE.includes(code))
  );
}
