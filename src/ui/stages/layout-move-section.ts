import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { LayoutMoveAnswer } from '../../harvest/propose-layout-move.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import { lengthUnit } from '../../trial/display-units.ts';
import { layoutMoveText } from '../../trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../trial/layout-move-schema.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import '../field/field-and-points.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import '../parts/number-field.ts';
import { forgetProposalWithLayout, layoutProposal } from '../state/layout-proposal.ts';
import { dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { proposalSentences } from './layout-move-sentences.ts';

const AS_PLANNED: LayoutMove = {
  eastM: 0,
  northM: 0,
  turnDegrees: 0,
  mirrored: false,
  renumbered: false,
  how: 'byHand',
};

const NUMBERS = [
  { key: 'eastM', label: 'East', quantity: 'length', hint: 'Minus is west.' },
  { key: 'northM', label: 'North', quantity: 'length', hint: 'Minus is south.' },
  { key: 'turnDegrees', label: 'Turned, degrees', quantity: 'plain', hint: 'Clockwise, about the middle.' },
] as const;

const WORDS = {
  ask: 'Propose a move',
  askAgain: null,
  running: (stage: string | null) => (stage === 'reading' ? 'Reading the files' : 'Looking at the passes'),
  failed: 'The passes could not be looked at, through a fault of the program.',
};

const SWITCHES = [
  { key: 'mirrored', label: 'Mirrored: the plan was put down the wrong way round, side for side' },
  { key: 'renumbered', label: 'Numbered from the other edge: strips stay, treatments run backwards' },
] as const;

/** Where the strips lie against the plan: moved by hand, each change one step to undo; the plan itself is kept. */
export class LayoutMoveSection extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    field: { attribute: false },
    isOpen: { state: true },
  };

  declare field: FieldDrawing | null;
  declare isOpen: boolean;

  constructor() {
    super();
    this.field = null;
    this.isOpen = false;
  }

  protected override whileShown(): () => void {
    return forgetProposalWithLayout();
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null || this.field === null) return nothing;
    const move = current.layoutMove ?? null;
    return html`
      <section aria-labelledby="move-heading">
        <h2 id="move-heading">Where the strips lie</h2>
        <p>${whereSays(move, current)}</p>
        <details ?open=${this.isOpen} @toggle=${this.#toggled}>
          <summary>Move the layout</summary>
          ${this.isOpen ? this.#ways(current, this.field, move ?? AS_PLANNED) : nothing}
        </details>
      </section>
    `;
  }

  #ways(current: TrialDocument, field: FieldDrawing, move: LayoutMove): TemplateResult {
    return html`
      <p class="hint">
        A layout is rarely where the map says. Move it until the strips lie where they were sprayed; the plan is kept, and
        what was moved is said in the report.${current.stamp === null ? '' : ' The harvest has been seen, so this counts as changed afterwards.'}
      </p>
      ${field.points === null ? nothing : html`<sv-field-and-points .field=${field}></sv-field-and-points>`}
      ${current.harvestFiles.some(({ kind }) => kind === 'points') ? fromPasses(current) : nothing}
      <fieldset>
        <legend>By hand</legend>
        <div class="field-grid">
          ${NUMBERS.map(
            ({ key, label, quantity, hint }) => html`
              <sv-number class="field" .label=${label} .quantity=${quantity} blank="0" .hint=${hint}
                .value=${move[key]} .take=${(value: number | null) => moveBy(move, { [key]: value ?? 0 })}></sv-number>
            `,
          )}
        </div>
        <div class="pairs">
          ${SWITCHES.map(
            ({ key, label }) => html`
              <label>
                <input type="checkbox" .checked=${live(move[key])} @change=${() => this.#switch(move, key)} /> ${label}
              </label>
            `,
          )}
        </div>
        <p class="hint">
          Whether the plan was mirrored or numbered backwards is for those to say who were there: yields must not decide it,
          since the answer would then be chosen by what it shall be found in.
        </p>
        <p class="actions">
          <button type="button" ?disabled=${move === AS_PLANNED} @click=${() => dispatch({ name: 'moveLayout', move: null })}>
            Back to as planned
          </button>
        </p>
      </fieldset>
    `;
  }

  #switch(move: LayoutMove, key: 'mirrored' | 'renumbered'): void {
    // A switch that the trial does not take goes back to where it was.
    if (!moveBy(move, { [key]: !move[key] })) this.requestUpdate();
  }

  readonly #toggled = (event: Event): void => {
    if (event.target instanceof HTMLDetailsElement) this.isOpen = event.target.open;
  };
}

function fromPasses(current: TrialDocument): TemplateResult {
  return html`
    <fieldset>
      <legend>From where the passes lie</legend>
      <p>
        Header and passes go with the strips they were driven for. The shift and turn under which most passes lie whole in
        one strip are proposed; no yield is looked at.
      </p>
      ${askedJobPanel(layoutProposal, WORDS, (answer) => proposed(answer, current))}
    </fieldset>
  `;
}

function proposed(answer: LayoutMoveAnswer, current: TrialDocument): TemplateResult {
  const sentences = proposalSentences(answer, lengthUnit(current.unitSystem));
  return html`
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}
    ${
      answer.kind === 'move'
        ? html`<p class="actions"><button type="button" class="main" @click=${() => dispatch({ name: 'moveLayout', move: answer.move })}>Move the layout so</button></p>`
        : nothing
    }
  `;
}

function moveBy(move: LayoutMove, changes: Partial<LayoutMove>): boolean {
  return dispatch({ name: 'moveLayout', move: { ...move, ...changes, how: 'byHand' } });
}

function whereSays(move: LayoutMove | null, { unitSystem }: TrialDocument): string {
  if (move === null) return 'Where they were planned.';
  const how = move.how === 'proposed' ? 'As proposed from the passes' : 'By hand';
  return `${how}, against the plan: ${layoutMoveText(move, lengthUnit(unitSystem))}.`;
}

customElements.define('sv-layout-move', LayoutMoveSection);
