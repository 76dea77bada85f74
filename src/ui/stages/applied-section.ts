import { html, nothing, type TemplateResult } from 'lit';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { isAboutApplication } from '../../words/application-advice.ts';
import '../field/applied-field.ts';
import { saidProblem } from '../notice-panel.ts';
import { filePicker } from '../parts/file-picker.ts';
import { lastRun } from '../state/analysis.ts';
import { openLogs } from '../state/opening.ts';
import { isSameFile } from '../state/readiness.ts';
import { dispatch, files, trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import { appliedTable } from './applied-table.ts';
import { logFileSection } from './log-file-section.ts';
import { plannedSection } from './planned-section.ts';

/** What was put out where, by the logs of sprayer or spreader, against what each strip was to get. */
export class AppliedSection extends TurnElement {
  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const run = lastRun.value;
    const logs = current.applicationFiles ?? [];
    return html`
      <section aria-labelledby="applied-heading" @drop=${takeDropped}>
        <h2 id="applied-heading">As applied</h2>
        ${
          logs.length === 0
            ? html`
              <p>
                No application log yet. Drop the log of the sprayer or spreader on this section: points or areas with rate
                and product, as CSV, GeoJSON, KML or a shapefile, or ISO 11783-10 task data as a .zip. Ground that did not get what was planned is then left out
                of the answer, and said.
              </p>`
            : nothing
        }
        <p class="actions">${filePicker(logs.length === 0 ? 'Choose application logs' : 'Add or replace application logs', 'calm', openLogs)}</p>
        ${problemsOf(current, run)}
        ${logs.map((file) =>
          logFileSection(
            file,
            run?.recognitions.find((entry) => isSameFile(entry.file, file.path))?.recognition ?? null,
            run?.applied?.products.filter((product) => product.file === file.path) ?? [],
            current,
            files.value.some(({ name }) => isSameFile(name, file.path)),
          ),
        )}
        ${logs.length === 0 ? nothing : html`${drawing(run)} ${outlinesOffer(current, run)} ${plannedSection(current)}`}
      </section>
    `;
  }
}

/** What is dropped here is a log, whatever else it might pass for. */
function takeDropped(event: DragEvent): void {
  event.preventDefault();
  void openLogs([...(event.dataTransfer?.files ?? [])]);
}

function problemsOf(current: TrialDocument, run: AnalysisRun | null): TemplateResult | typeof nothing {
  const isOfLog = (file: string | null) =>
    file !== null && (current.applicationFiles?.some(({ path }) => isSameFile(path, file)) ?? false);
  const said = (run?.report.problems ?? []).filter(
    ({ code, file }) => isOfLog(file) || (file === null && isAboutApplication(code)),
  );
  return said.length === 0 ? nothing : html`<ul class="problems">${said.map(saidProblem)}</ul>`;
}

function drawing(run: AnalysisRun | null): TemplateResult | typeof nothing {
  if (!run?.applied || run.field === null || run.applied.swaths.treatment.length === 0) return nothing;
  return html`
    <sv-applied-field .field=${run.field} .applied=${run.applied}></sv-applied-field>
    ${appliedTable(run.applied.strips, run.trial)}
  `;
}

/** Outlines of a log of areas may stand for those of the plan, and can be taken back. */
function outlinesOffer(current: TrialDocument, run: AnalysisRun | null): TemplateResult | typeof nothing {
  const taken = current.strips.filter(({ appliedPolygon }) => appliedPolygon).map(({ id }) => id);
  if (taken.length > 0) {
    const back = () =>
      dispatch({ name: 'takeAppliedPolygons', strips: taken.map((id) => ({ id, polygon: null })) });
    return html`
      <p>
        ${taken.length} strips lie by their outline as applied.
        <button type="button" class="plain" @click=${back}>Lay them as planned again</button>
      </p>
    `;
  }
  const outlines = run?.applied?.outlines ?? [];
  if (outlines.length === 0) return nothing;
  return html`
    <p>
      The log holds one area for each of ${outlines.length} strips.
      <button type="button" @click=${() => dispatch({ name: 'takeAppliedPolygons', strips: outlines })}>
        Let these outlines stand for the plan’s
      </button>
    </p>
  `;
}

customElements.define('sv-as-applied', AppliedSection);
