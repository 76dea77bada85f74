import { html, type TemplateResult } from 'lit';
import { analysis } from './state/analysis.ts';
import { type Readiness, readinessOf } from './state/readiness.ts';
import { STAGE_NAMES, STAGES, type Stage, stage } from './state/router.ts';
import { files, trial } from './state/session.ts';
import { TurnElement } from './state/turn-element.ts';

/** The stages in order; each says what is ready and what is missing, by a mark and in words. */
export class StageBar extends TurnElement {
  protected override render(): TemplateResult {
    const current = trial.value;
    if (current === null) return html``;
    const readiness = readinessOf(current, files.value, analysis.value);
    return html`
      <nav aria-label="Stages">
        <ol class="stages">
          ${STAGES.map((name) => stageLink(name, readiness[name]))}
        </ol>
      </nav>
    `;
  }
}

/** Tick, question, and an open ring: told apart by form, spoken in words. */
const MARKS = { ready: '✓', look: '?', missing: '○' } as const;

function stageLink(name: Stage, { state, says }: Readiness): TemplateResult {
  return html`
    <li>
      <a href="#/${name}" class="is-${state}" aria-current=${stage.value === name ? 'step' : 'false'}>
        <span class="stage-name">${STAGE_NAMES[name]}</span>
        <span class="stage-says"><span class="stage-mark" aria-hidden="true">${MARKS[state]}</span> <span class="stage-words">${says}</span></span>
      </a>
    </li>
  `;
}

customElements.define('sv-stage-bar', StageBar);
