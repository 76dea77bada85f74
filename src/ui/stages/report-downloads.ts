import { html, type TemplateResult } from 'lit';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import { download, fileName } from '../download.ts';
import { notice } from '../state/session.ts';

/** Names as the command line gives them, so that the same file is called the same everywhere. */
const FILES: readonly { readonly name: string; readonly label: string }[] = [
  { name: 'report.json', label: 'Report model as JSON' },
  { name: 'strips.csv', label: 'Strips (CSV)' },
  { name: 'answers.csv', label: 'Answers (CSV)' },
  { name: 'means.csv', label: 'Means (CSV)' },
  { name: 'comparisons.csv', label: 'Comparisons (CSV)' },
  { name: 'anova.csv', label: 'Analysis of variance (CSV)' },
  { name: 'further-results.csv', label: 'Further results (CSV)' },
  { name: 'tables.xlsx', label: 'All tables (XLSX)' },
  { name: 'strips.geojson', label: 'Strips with their values (GeoJSON)' },
];

/** The report and its tables as files, for the trial summary and for other programs. */
export function reportDownloads(run: AnalysisRun): TemplateResult {
  const hasPolygons = run.field !== null;
  const offered = FILES.filter(({ name }) => hasPolygons || name !== 'strips.geojson');
  return html`
    <section aria-labelledby="take-heading">
      <h2 id="take-heading">Take it along</h2>
      <p class="actions">
        ${offered.map(({ name, label }) => html`<button type="button" @click=${() => void save(run, name)}>${label}</button>`)}
      </p>
    </section>
  `;
}

export async function save(run: AnalysisRun, wanted: string): Promise<void> {
  try {
    const { answerFiles } = await import('../../export/answer-files.ts');
    const files = await answerFiles(run.report, { field: run.field, trial: run.trial });
    const file = files.find(({ name }) => name === wanted);
    if (file === undefined) throw new Error(`there is no ${wanted} for this trial`);
    download(fileName(run.report.trial.name, `.${wanted}`), file.content, file.mediaType);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    notice.value = {
      text: `The file was not made (${reason}). The trial and its answer are as they were.`,
      problems: [],
    };
  }
}
