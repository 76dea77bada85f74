import { html, nothing, type TemplateResult } from 'lit';
import { lagCurve } from '../../figures/lag-curve.ts';
import type { LagAnswer, LagEstimate } from '../../harvest/estimate-lag.ts';
import { type FileShifts, fileShifts } from '../../trial/file-shifts.ts';
import type { HarvestFile, TrialDocument } from '../../trial/trial-document.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import '../parts/figure-frame.ts';
import '../parts/number-field.ts';
import { lastRun } from '../state/analysis.ts';
import { forgetLagWithFiles, lag } from '../state/lag.ts';
import { isSameFile } from '../state/readiness.ts';
import { dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { lagSentence, shiftProposed } from './lag-sentences.ts';

const MOST_PX = 620;
/** Lags of flow and moisture nearer than this are one lag. */
const ALIKE_S = 0.5;

const WORDS = {
  ask: 'Estimate it from the points',
  askAgain: 'Estimate it again',
  running: (stage: string | null) => (stage === 'reading' ? 'Reading the files' : 'Comparing passes'),
  failed: 'It could not be estimated, through a fault of the program.',
};

/** How late the signal is, told from the data; the user alone sets the shift. */
export class LagSection extends SignalElement {
  protected override whileShown(): () => void {
    return forgetLagWithFiles();
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    return html`
      <section aria-labelledby="lag-heading">
        <h2 id="lag-heading">From the header to the sensor</h2>
        <p>
          Grain is measured some seconds after it was cut. Most exports have that taken out already. What is left shows
          where neighbouring passes, driven in opposite directions, agree best. ${shiftSays(current)}
        </p>
        ${ownShifts(current)} ${askedJobPanel(lag, WORDS, (estimates) => estimated(estimates, current))}
      </section>
    `;
  }
}

function pointFiles({ harvestFiles }: TrialDocument): readonly HarvestFile[] {
  return harvestFiles.filter(({ kind }) => kind === 'points');
}

function isOneOfSeveral(current: TrialDocument): boolean {
  return pointFiles(current).length > 1;
}

function shiftSays(current: TrialDocument): string {
  const said = pointFiles(current).map(({ path }) => ({ path, ...fileShifts(current, path) }));
  if (said.every(({ flowS, moistureS }) => flowS === 0 && moistureS === 0)) return 'Nothing is shifted now.';
  const [first] = said;
  const isOne = said.every(({ flowS, moistureS }) => flowS === first?.flowS && moistureS === first.moistureS);
  return isOne && first !== undefined
    ? shiftWords(first, '')
    : said.map((shift) => shiftWords(shift, ` in ${shift.path}`)).join(' ');
}

/** Until a file has been read it may hold moisture. */
function hasMoisture(path: string): boolean {
  const read = lastRun.value?.recognitions.find(({ file }) => isSameFile(file, path));
  return read?.recognition?.columns.some(({ role }) => role === 'moisture') ?? true;
}

function shiftWords(
  { path, flowS, moistureS }: FileShifts & { readonly path: string },
  where: string,
): string {
  if (!hasMoisture(path)) return `Flow${where} is shifted back by ${flowS} s now.`;
  return flowS === moistureS
    ? `Flow and moisture${where} are shifted back by ${flowS} s now.`
    : `Flow${where} is shifted back by ${flowS} s and moisture by ${moistureS} s now.`;
}

/** With one file the shift is the trial's own; with several each may have its own, shown beside what was found of it. */
function ownShifts(current: TrialDocument): TemplateResult | typeof nothing {
  if (!isOneOfSeveral(current) || lag.state.value.stage === 'done') return nothing;
  return html`${blankMeans(current)}${pointFiles(current).map((file) => shiftsOfFile(file, hasMoisture(file.path), nothing))}`;
}

function blankMeans({ harvest }: TrialDocument): TemplateResult {
  return html`<p>Each file may have a shift of its own; blank: the shift of the cleaning settings, ${harvest.shiftLagS} s.</p>`;
}

function shiftsOfFile(
  file: HarvestFile,
  withMoisture: boolean,
  found: TemplateResult | typeof nothing,
): TemplateResult {
  return html`
    <fieldset class="file-shifts">
      <legend>${file.path}</legend>
      <div class="field-grid">
        ${shiftField(file, 'shiftLagS', 'Shift of its flow', 'as in the settings')}
        ${withMoisture ? shiftField(file, 'shiftMoistureS', 'Shift of its moisture', 'as its flow') : nothing}
      </div>
      ${found}
    </fieldset>
  `;
}

function shiftField(
  file: HarvestFile,
  key: 'shiftLagS' | 'shiftMoistureS',
  label: string,
  blank: string,
): TemplateResult {
  const take = (seconds: number | null) =>
    dispatch({ name: 'changeHarvestFile', path: file.path, changes: { [key]: seconds } });
  return html`
    <sv-number class="field" .label=${label} quantity="seconds" .blank=${blank}
      .value=${file[key] ?? null} .take=${take}></sv-number>
  `;
}

function estimated(estimates: readonly LagEstimate[], current: TrialDocument): TemplateResult {
  const several = isOneOfSeveral(current);
  return html`
    ${several ? blankMeans(current) : nothing}
    ${estimates.map((estimate, index) => {
      const found = fileEstimate(estimate, index, current);
      const file = pointFiles(current).find(({ path }) => path === estimate.file);
      return several && file !== undefined ? shiftsOfFile(file, estimate.moisture !== null, found) : found;
    })}
  `;
}

function fileEstimate(estimate: LagEstimate, index: number, current: TrialDocument): TemplateResult {
  const { file, flow, moisture } = estimate;
  const { flowS, moistureS } = fileShifts(current, file);
  return html`
    <div class="lag-estimate">
      <p>${lagSentence('Flow', flow)} ${isOneOfSeveral(current) ? nothing : html`<span class="quiet">${file}</span>`}</p>
      ${setButton('flow', flow, flowS, file, current, moisture !== null)}
      ${curveFigure(`Flow of ${file}`, `lag-of-flow-${index + 1}.svg`, flow, flowS)}
      ${
        moisture === null
          ? nothing
          : html`
            <p>${lagSentence('Moisture', moisture)}</p>
            ${isApart(flow, moisture) ? setButton('moisture', moisture, moistureS, file, current, true) : nothing}
            <details>
              <summary>The curve of the moisture</summary>
              ${curveFigure(`Moisture of ${file}`, `lag-of-moisture-${index + 1}.svg`, moisture, moistureS)}
            </details>`
      }
    </div>
  `;
}

/** Moisture is offered a shift of its own where it was told and the flow's would not do. */
function isApart(flow: LagAnswer, moisture: LagAnswer): boolean {
  const [own, other] = [shiftProposed(moisture), shiftProposed(flow)];
  return own !== null && (other === null || Math.abs(own - other) > ALIKE_S);
}

function setButton(
  signal: 'flow' | 'moisture',
  answer: LagAnswer,
  setS: number,
  path: string,
  current: TrialDocument,
  withMoisture: boolean,
): TemplateResult | typeof nothing {
  const proposedS = shiftProposed(answer);
  if (proposedS === null) return nothing;
  if (proposedS === setS) return html`<p class="quiet">This shift is set.</p>`;
  const changes = signal === 'flow' ? { shiftLagS: proposedS } : { shiftMoistureS: proposedS };
  const several = isOneOfSeveral(current);
  const set = () =>
    several
      ? dispatch({ name: 'changeHarvestFile', path, changes })
      : dispatch({ name: 'changeHarvestSettings', changes });
  const own = current.harvestFiles.find((file) => file.path === path)?.shiftMoistureS;
  const goesAlong = withMoisture && (own ?? current.harvest.shiftMoistureS ?? null) === null;
  const what = signal === 'moisture' ? 'the moisture alone' : goesAlong ? 'flow and moisture' : 'the flow';
  return html`<p class="actions"><button type="button" class="main" @click=${set}>Shift ${what}${several ? ' of this file' : ''} back by ${proposedS} s</button></p>`;
}

function curveFigure(
  signal: string,
  file: string,
  answer: LagAnswer,
  shiftS: number,
): TemplateResult | typeof nothing {
  if (answer.curve.length < 2) return nothing;
  const title = `${signal}: how much neighbouring passes disagree`;
  const draw = (widthPx: number) =>
    lagCurve(answer, {
      widthPx: Math.min(widthPx, MOST_PX),
      title,
      shiftS,
      id: file.replace('.svg', ''),
    });
  return html`<sv-figure file=${file} .draw=${draw}></sv-figure>`;
}

customElements.define('sv-lag', LagSection);
