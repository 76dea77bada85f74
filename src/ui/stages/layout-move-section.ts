import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { LayoutMoveAnswer } from '../../harvest/propose-layout-move.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import { lengthUnit } from '../../trial/display-units.ts';
import { layoutMoveText } from '../../trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../trial/layout-move-schema.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { fixed } from '../../words/number-formats.ts';
import type { FieldAndPoints } from '../field/field-and-points.ts';
import '../field/field-and-points.ts';
import type { HeldLayout } from '../field/held-layout.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import '../parts/number-field.ts';
import { forgetProposalWithLayout, layoutProposal } from '../state/layout-proposal.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import {
  dragByKey,
  draggedMove,
  fieldUnderMove,
  keyStepM,
  steppedMove,
  TURN_BY_KEY_DEGREES,
} from './layout-by-hand.ts';
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

/** After so long a pause in pressing keys the layout is taken where it lies. */
const KEYS_REST_MS = 700;

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
    isOnField: { state: true },
    draft: { state: true },
  };

  declare field: FieldDrawing | null;
  declare isOpen: boolean;
  declare isOnField: boolean;
  /** Where a drag, or keys that were just pressed, have taken it; not in the trial yet. */
  declare draft: LayoutMove | null;
  #draftFrom: LayoutMove | undefined = undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    super();
    this.field = null;
    this.isOpen = false;
    this.isOnField = false;
    this.draft = null;
  }

  override disconnectedCallback(): void {
    this.#take();
    super.disconnectedCallback();
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
        <p>${whereSays(this.draft ?? move, current)}</p>
        <details ?open=${this.isOpen} @toggle=${this.#toggled}>
          <summary>Move the layout</summary>
          ${this.isOpen ? this.#ways(current, this.field, this.draft ?? move ?? AS_PLANNED) : nothing}
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
      ${this.#onField(current, field, move)}
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

  #onField(current: TrialDocument, field: FieldDrawing, move: LayoutMove): TemplateResult | typeof nothing {
    const shown = this.isOnField ? fieldUnderMove(current, move, field) : null;
    if (shown === null)
      return html`
        ${field.points === null ? nothing : html`<sv-field-and-points .field=${field}></sv-field-and-points>`}
        <p class="actions"><button type="button" @click=${this.#begin}>Move it on the field</button></p>
      `;
    return html`
      <sv-field-and-points .field=${shown.field} .held=${this.#held(current, move, shown.middle)}></sv-field-and-points>
      <p><b>${layoutMoveText(move, lengthUnit(current.unitSystem)) || 'As planned'}</b></p>
      <p class="hint">${howToMove(current)}</p>
      <p class="actions"><button type="button" @click=${this.#end}>Done moving</button></p>
    `;
  }

  #held(current: TrialDocument, move: LayoutMove, middle: readonly [number, number]): HeldLayout {
    const start = current.layoutMove ?? AS_PLANNED;
    return {
      middle,
      handleDegrees: move.turnDegrees - start.turnDegrees,
      drag: (drag) => {
        this.#draftFrom = current.layoutMove;
        this.draft = draggedMove(start, drag);
      },
      letGo: () => this.#take(),
      key: (event) => this.#key(event, current, move),
    };
  }

  /** Keys pressed one after the other are one step to undo. */
  #key(event: KeyboardEvent, current: TrialDocument, move: LayoutMove): boolean {
    if (event.key === 'Escape' || event.key === 'Enter') {
      if (this.draft === null) return false;
      if (event.key === 'Escape') this.draft = null;
      this.#take();
      return true;
    }
    const drag = dragByKey(event, current.unitSystem);
    if (drag === null) return false;
    this.#draftFrom = current.layoutMove;
    this.draft = steppedMove(move, drag);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#take(), KEYS_REST_MS);
    return true;
  }

  #take(): void {
    clearTimeout(this.#timer);
    const { draft } = this;
    this.draft = null;
    // Undone meanwhile, or closed: then it was about another place.
    if (draft === null || trial.peek()?.layoutMove !== this.#draftFrom) return;
    if (!dispatch({ name: 'moveLayout', move: draft })) return;
    const unitSystem = trial.peek()?.unitSystem ?? 'metric';
    announcement.value = `The layout lies ${layoutMoveText(draft, lengthUnit(unitSystem)) || 'as planned'}.`;
  }

  readonly #begin = async (): Promise<void> => {
    this.isOnField = true;
    await this.updateComplete;
    const field = this.querySelector<FieldAndPoints>('sv-field-and-points');
    await field?.updateComplete;
    field?.querySelector<HTMLElement>('.field-frame')?.focus();
  };

  readonly #end = (): void => {
    this.#take();
    this.isOnField = false;
  };

  #switch(move: LayoutMove, key: 'mirrored' | 'renumbered'): void {
    // A switch that the trial does not take goes back to where it was.
    if (!moveBy(move, { [key]: !move[key] })) this.requestUpdate();
  }

  readonly #toggled = (event: Event): void => {
    if (event.target instanceof HTMLDetailsElement) this.isOpen = event.target.open;
  };
}

function howToMove({ unitSystem }: TrialDocument): string {
  const { label, perSi } = lengthUnit(unitSystem);
  const step = fixed(keyStepM(unitSystem) * perSi, unitSystem === 'metric' ? 1 : 0);
  return `Drag the strips to shift them, the handle to turn them about their middle; each drag is one step to undo. On the keyboard an arrow shifts by ${step} ${label}, Page Up and Page Down turn by ${TURN_BY_KEY_DEGREES} degrees, with Shift five times as far; Escape drops what was not taken yet.`;
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
