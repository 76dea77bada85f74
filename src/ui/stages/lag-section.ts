import { html, nothing, type TemplateResult } from 'lit';
import { lagCurve } from '../../figures/lag-curve.ts';
import type { LagAnswer, LagEstimate } from '../../harvest/estimate-lag.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import '../parts/figure-frame.ts';
import { forgetLagWithFiles, lag } from '../state/lag.ts';
import { dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { lagSentence, shiftProposed } from './lag-sentences.ts';

const MOST_PX = 620;
/** Two files whose lags differ by more can not both be right under one shift. */
const APART_S = 1;

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
        ${askedJobPanel(lag, WORDS, (estimates) => estimated(estimates, current))}
      </section>
    `;
  }
}

function shiftSays({ harvest }: TrialDocument): string {
  if (harvest.shiftLagS === 0) return 'Nothing is shifted now.';
  return `Flow and moisture are shifted back by ${harvest.shiftLagS} s now.`;
}

function estimated(estimates: readonly LagEstimate[], current: TrialDocument): TemplateResult {
  return html`${filesApart(estimates)}${estimates.map((estimate) => fileEstimate(estimate, current))}`;
}

function filesApart(estimates: readonly LagEstimate[]): TemplateResult | typeof nothing {
  const lags = estimates.flatMap(({ flow }) => (flow.kind === 'lag' ? [flow.lagS] : []));
  if (lags.length < 2 || Math.max(...lags) - Math.min(...lags) <= APART_S) return nothing;
  return html`
    <p class="problem is-warning">
      The files differ in their lag, and one shift serves them all. Export the files anew with the lag taken out of each.
    </p>
  `;
}

function fileEstimate({ file, flow, moisture }: LagEstimate, current: TrialDocument): TemplateResult {
  return html`
    <div class="lag-estimate">
      <p>${lagSentence('Flow', flow)} <span class="quiet">${file}</span></p>
      ${setButton(flow, current)} ${curveFigure(`Flow of ${file}`, 'lag-of-flow.svg', flow, current)}
      ${
        moisture === null
          ? nothing
          : html`
            <p>${lagSentence('Moisture', moisture)}</p>
            <details>
              <summary>The curve of the moisture</summary>
              ${curveFigure(`Moisture of ${file}`, 'lag-of-moisture.svg', moisture, current)}
            </details>`
      }
    </div>
  `;
}

function setButton(answer: LagAnswer, current: TrialDocument): TemplateResult | typeof nothing {
  const shiftLagS = shiftProposed(answer);
  if (shiftLagS === null) return nothing;
  if (shiftLagS === current.harvest.shiftLagS) return html`<p class="quiet">This shift is set.</p>`;
  const set = () => dispatch({ name: 'changeHarvestSettings', changes: { shiftLagS } });
  return html`<p class="actions"><button type="button" class="main" @click=${set}>Shift flow and moisture back by ${shiftLagS} s</button></p>`;
}

function curveFigure(
  signal: string,
  file: string,
  answer: LagAnswer,
  current: TrialDocument,
): TemplateResult | typeof nothing {
  if (answer.curve.length < 2) return nothing;
  const title = `${signal}: how much neighbouring passes disagree`;
  const draw = (widthPx: number) =>
    lagCurve(answer, {
      widthPx: Math.min(widthPx, MOST_PX),
      title,
      shiftS: current.harvest.shiftLagS,
      id: file.replace('.svg', ''),
    });
  return html`<sv-figure file=${file} .draw=${draw}></sv-figure>`;
}

customElements.define('sv-lag', LagSection);
