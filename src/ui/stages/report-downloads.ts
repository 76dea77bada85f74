import { html, type TemplateResult } from 'lit';
import type { ReportModel } from '../../findings/report-model.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { download, fileName } from '../download.ts';

/** The report and its strips as files, for the trial summary and for other programs. */
export function reportDownloads(report: ReportModel, current: TrialDocument): TemplateResult {
  const json = () =>
    download(
      fileName(current.name, '.report.json'),
      `${JSON.stringify(report, null, 2)}\n`,
      'application/json',
    );
  return html`
    <section aria-labelledby="take-heading">
      <h2 id="take-heading">Take it along</h2>
      <p class="actions">
        <button type="button" @click=${json}>Report model as JSON</button>
      </p>
    </section>
  `;
}
