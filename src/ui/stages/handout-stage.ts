import { html, nothing, type TemplateResult } from 'lit';
import { handoutPage } from '../../export/handout-page.ts';
import type { ReportModel } from '../../findings/report-model.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { download, fileName } from '../download.ts';
import '../parts/progress-panel.ts';
import { sprayingCautionsPanel } from '../parts/spraying-cautions.ts';
import { lastRun } from '../state/analysis.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import './handout-sheet.ts';

/** One page for the grower's table: shown as it prints. */
export class HandoutStage extends TurnElement {
  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const report = lastRun.value?.report ?? null;
    const hasAnswer = report !== null && report.responses.length > 0;
    return html`
      <h1>Handout</h1>
      <sv-progress></sv-progress>
      ${
        report !== null && hasAnswer
          ? sheetWithTools(report, current)
          : html`<p class="lead">The handout needs an answer, and the answer needs strips and a harvest.</p>`
      }
      ${sprayingCautionsPanel()}
    `;
  }
}

function sheetWithTools(report: ReportModel, current: TrialDocument): TemplateResult {
  const { season } = current;
  const save = () =>
    download(
      fileName(current.name, '.handout.html'),
      handoutPage(report, { season }),
      'text/html;charset=utf-8',
    );
  return html`
    <p class="actions">
      <button type="button" class="main" @click=${() => print()}>Print</button>
      <button type="button" @click=${save}>Save as a page of its own</button>
      <span class="quiet">One sheet of A4 or Letter, as it stands below.</span>
    </p>
    <sv-handout-sheet .report=${report} .season=${season}></sv-handout-sheet>
  `;
}

customElements.define('sv-handout-stage', HandoutStage);
