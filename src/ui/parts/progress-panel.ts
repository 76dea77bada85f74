import { html, nothing, type TemplateResult } from 'lit';
import type { Progress } from '../../pipeline/input-file.ts';
import { type AnalysisState, analysis, cancelAnalysis, runAgain } from '../state/analysis.ts';
import { SignalElement } from '../state/signal-element.ts';

const STAGE_WORDS: Readonly<Record<Progress['stage'], string>> = {
  reading: 'Reading the files',
  placing: 'Placing points on strips and screening them',
  analysing: 'Working out the answer',
};

/** How far the work has come, with a way to stop it; and what happened when it did not come to its end. */
export class ProgressPanel extends SignalElement {
  protected override render(): TemplateResult | typeof nothing {
    return progressPanel(analysis.value);
  }
}

function progressPanel({ stage, progress, reason, last }: AnalysisState): TemplateResult | typeof nothing {
  if (stage === 'running') {
    return html`
      <div class="progress-panel">
        <label>
          ${progress === null ? 'Beginning' : STAGE_WORDS[progress.stage]}
          <progress max="1" .value=${progress?.share ?? 0}></progress>
        </label>
        <button type="button" @click=${cancelAnalysis}>Stop</button>
      </div>
    `;
  }
  if (stage === 'cancelled') {
    return html`
      <div class="progress-panel">
        <span>
          ${last === null ? 'Stopped before there was an answer.' : 'Stopped. What is shown is from before the last change.'}
        </span>
        <button type="button" @click=${runAgain}>Work it out</button>
      </div>
    `;
  }
  if (stage === 'failed') {
    return html`
      <section class="notice" role="alert">
        <p>
          The answer could not be worked out, through a fault of the program and not of your trial. The trial is kept;
          undo the last change, or save the trial to a file and try again.
        </p>
        <p class="quiet">${reason}</p>
        <p class="actions"><button type="button" @click=${runAgain}>Try again</button></p>
      </section>
    `;
  }
  return nothing;
}

customElements.define('sv-progress', ProgressPanel);
