import { html, type TemplateResult } from 'lit';
import type { Progress } from '../../pipeline/input-file.ts';
import { problemSentence } from '../../words/problem-sentences.ts';
import { saidProblem } from '../notice-panel.ts';
import { isAnalysing } from '../state/analysis.ts';
import type { AskedJob } from '../state/asked-job.ts';

interface PanelWords {
  readonly ask: string;
  /** null: once done it is not offered again. */
  readonly askAgain: string | null;
  readonly running: (stage: Progress['stage'] | null) => string;
  readonly failed: string;
}

/** A button that asks for a piece of work, its progress, and what it found. */
export function askedJobPanel<T>(
  job: AskedJob<T>,
  words: PanelWords,
  found: (result: T) => TemplateResult,
): TemplateResult {
  const state = job.state.value;
  switch (state.stage) {
    case 'nothing':
      return askButton(job, words.ask);
    case 'running':
      return html`
        <div class="progress-panel">
          <label>${words.running(state.progress?.stage ?? null)}
            <progress max="1" .value=${state.progress?.share ?? 0}></progress>
          </label>
          <button type="button" @click=${job.stop}>Stop</button>
        </div>
      `;
    case 'refused':
      return html`
        <ul class="problems">${state.problems.map((one) => saidProblem({ ...one, ...problemSentence(one) }))}</ul>
        ${askButton(job, 'Try again')}
      `;
    case 'failed':
      return html`<p class="fault">${words.failed}</p>${askButton(job, 'Try again')}`;
    case 'done':
      return html`${found(state.found)}${words.askAgain === null ? '' : askButton(job, words.askAgain)}`;
  }
}

/** Not while the answer is being worked out: both need the same worker. */
function askButton<T>({ ask }: AskedJob<T>, words: string): TemplateResult {
  const isBusy = isAnalysing.value;
  return html`<p class="actions"><button type="button" ?disabled=${isBusy} @click=${() => void ask()}>${words}</button></p>`;
}
