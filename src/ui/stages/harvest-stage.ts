import { html, nothing, type TemplateResult } from 'lit';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import '../field/field-and-points.ts';
import '../field/points-within-strips.ts';
import { filePicker } from '../parts/file-picker.ts';
import { part } from '../parts/page-part.ts';
import '../parts/progress-panel.ts';
import { lastRun } from '../state/analysis.ts';
import { absentFiles, isSameFile } from '../state/readiness.ts';
import { files, trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import './areas-section.ts';
import { cleaningSection } from './cleaning-section.ts';
import './cleanings-section.ts';
import { countsSection } from './counts-section.ts';
import { harvestFileSection } from './harvest-file-section.ts';
import { harvestProblems } from './harvest-problems.ts';
import './lag-section.ts';
import './passes-section.ts';
import './paste-weights-section.ts';
import { scaleSection } from './scale-section.ts';

/** What was harvested: how each file is understood, which points are kept, and why others are set aside. */
export class HarvestStage extends TurnElement {
  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const last = lastRun.value;
    return html`
      <h1>Harvest</h1>
      <sv-progress></sv-progress> ${filesToAdd(current)}
      ${
        current.harvestFiles.length === 0
          ? html`<p>
            No harvest yet. Drop the yield monitor’s points anywhere on this page (CSV, shapefile, GeoJSON, or ISO 11783-10
            task data as a .zip), or a table of weights (CSV or XLSX) with one row for each strip or sample. Weights beside
            points replace what the monitor says.
          </p>`
          : nothing
      }
      <p class="actions">${filePicker(current.harvestFiles.length === 0 ? 'Choose harvest files' : 'Add or replace harvest files')}</p>
      <sv-paste-weights></sv-paste-weights>
      ${part(() => harvestProblems(current, last))}
      ${last?.field?.passes == null ? nothing : html`<sv-passes .passes=${last.field.passes}></sv-passes>`}
      ${part(() => fieldSection(last))}
      ${last === null ? nothing : part(() => countsSection(last, spreadSection(last)))}
      ${part(() => scaleSection(last?.report.weighed ?? null))}
      ${current.harvestFiles.map((file) =>
        part(() =>
          harvestFileSection(
            file,
            last?.recognitions.find((entry) => isSameFile(entry.file, file.path)) ?? null,
            current,
          ),
        ),
      )}
      ${current.harvestFiles.every(({ kind }) => kind === 'hand') && current.harvestFiles.length > 0 ? nothing : html`${part(() => lagSection(current))} ${part(() => cleaningSection(current))} ${part(() => cleaningsSection(current, last))}`}
    `;
  }
}

/** There is something to estimate once points lie on strips. */
function lagSection(current: TrialDocument): TemplateResult | typeof nothing {
  const hasPoints = current.harvestFiles.some(({ kind }) => kind === 'points');
  return hasPoints && current.strips.length > 0 ? html`<sv-lag></sv-lag>` : nothing;
}

function cleaningsSection(current: TrialDocument, run: AnalysisRun | null): TemplateResult | typeof nothing {
  const isAnswered = run?.report.responses.some(({ answers }) => answers.length > 0) ?? false;
  const allPoints = current.harvestFiles.every(({ kind }) => kind === 'points');
  return isAnswered && allPoints ? html`<sv-cleanings></sv-cleanings>` : nothing;
}

function filesToAdd(current: TrialDocument): TemplateResult | typeof nothing {
  const needed = absentFiles(current, files.value);
  if (needed.length === 0) return nothing;
  return html`
    <section class="notice">
      <p>
        The trial names ${needed.map((path) => `“${path}”`).join(', ')}, which this browser does not hold. Drop the
        ${needed.length === 1 ? 'file' : 'files'} here and the answer is worked out again.
      </p>
    </section>
  `;
}

function fieldSection(run: AnalysisRun | null): TemplateResult | typeof nothing {
  if (run === null || run.field === null || run.field.points === null) return nothing;
  return html`
    <section aria-labelledby="points-heading">
      <h2 id="points-heading">The field and its points</h2>
      <sv-field-and-points .field=${run.field}></sv-field-and-points>
    </section>
    <sv-areas-left-out .field=${run.field}></sv-areas-left-out>
  `;
}

function spreadSection(run: AnalysisRun | null): TemplateResult | typeof nothing {
  const points = run?.field?.points ?? null;
  return points === null
    ? nothing
    : html`<sv-points-within-strips .points=${points}></sv-points-within-strips>`;
}

customElements.define('sv-harvest-stage', HarvestStage);
