import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { type LocalFrame, localProjection } from '../../geometry/local-projection.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import type { TakenLayout } from '../../trial/commands.ts';
import { drawUpLayout, type LayoutToDraw } from '../../trial/draw-up-layout.ts';
import { blocksOfOrder, orderText } from '../../trial/order-text.ts';
import type { Outcome } from '../../trial/problem.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { problemSentence } from '../../words/problem-sentences.ts';
import '../field/field-and-points.ts';
import { saidProblem } from '../notice-panel.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { lastRun } from '../state/analysis.ts';
import { drawnCorners } from '../state/area-drawing.ts';
import { bareField, forgetBareFieldWithFiles } from '../state/bare-field.ts';
import { counted } from '../state/readiness.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { degreesRead, degreesShown } from './degree-entry.ts';
import { drawnUpPreview, drawnUpWords } from './drawn-up-preview.ts';

const EDGE_FIELDS = [
  { key: 'startLongitude', label: 'Start, longitude' },
  { key: 'startLatitude', label: 'Start, latitude' },
  { key: 'endLongitude', label: 'End, longitude' },
  { key: 'endLatitude', label: 'End, latitude' },
] as const;
type EdgeKey = (typeof EDGE_FIELDS)[number]['key'];
type EdgeTexts = Readonly<Record<EdgeKey, string>>;

const NO_EDGE: EdgeTexts = { startLongitude: '', startLatitude: '', endLongitude: '', endLatitude: '' };

const POINT_WORDS = {
  ask: 'Show the points to draw on',
  askAgain: null,
  running: () => 'Reading the files',
  failed: 'The points could not be shown, through a fault of the program.',
};

/** Strips drawn up here, from one line along their edge: what is asked for, how it would lie, and one button to take it. */
export class DrawUpSection extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    isOpen: { state: true },
    edge: { state: true },
    side: { state: true },
    widthM: { state: true },
    gapM: { state: true },
    order: { state: true },
    isDrawing: { state: true },
  };

  declare isOpen: boolean;
  declare edge: EdgeTexts;
  declare side: LayoutToDraw['side'];
  declare widthM: number | null;
  declare gapM: number;
  /** null: that of the document. */
  declare order: string | null;
  declare isDrawing: boolean;

  constructor() {
    super();
    this.isOpen = false;
    this.edge = NO_EDGE;
    this.side = 'right';
    this.widthM = null;
    this.gapM = 0;
    this.order = null;
    this.isDrawing = false;
  }

  protected override whileShown(): () => void {
    return forgetBareFieldWithFiles();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#stopDrawing();
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const hasMap = current.strips.some(({ polygon }) => polygon !== null);
    return html`
      <section aria-labelledby="draw-up-heading">
        <h2 id="draw-up-heading">${hasMap ? 'Another layout' : 'No file of the layout?'}</h2>
        <details ?open=${this.isOpen} @toggle=${this.#toggled}>
          <summary>Draw it up from one edge line</summary>
          ${this.isOpen ? this.#form(current, hasMap) : nothing}
        </details>
      </section>
    `;
  }

  protected override updated(): void {
    const corners = drawnCorners.peek();
    const frame = this.#ground()?.frame ?? null;
    if (!this.isDrawing || corners === null || corners.length < 2 || frame === null) return;
    const { toGeographic } = localProjection(frame);
    const [start, end] = [toGeographic(...corners[0]!), toGeographic(...corners[1]!)].map((at) =>
      at.map(degreesShown),
    ) as [[string, string], [string, string]];
    this.edge = {
      startLongitude: start[0],
      startLatitude: start[1],
      endLongitude: end[0],
      endLatitude: end[1],
    };
    this.#stopDrawing();
    announcement.value = 'The edge line is drawn.';
  }

  #form(current: TrialDocument, hasMap: boolean): TemplateResult {
    const asked = this.#asked(current);
    const outcome = asked === null ? null : drawUpLayout(asked, current.treatments);
    return html`
      <p class="hint">
        The line runs along the edge of the first strip, from one end to the other; strips are as long as the line and lie
        beside it, one after the other. The order of treatments is taken as you write it: draw it by lot before.
      </p>
      ${this.#edgeFields(current)} ${this.#preview(current, outcome)} ${this.#stripFields()} ${this.#orderField(current)}
      ${asked === null || !outcome?.ok ? nothing : html`<p>${drawnUpWords(asked, outcome.value, current)}</p>`}
      ${outcome === null || outcome.problems.length === 0 ? nothing : html`<ul class="problems" role="status">${outcome.problems.map((one) => saidProblem({ ...one, ...problemSentence(one) }))}</ul>`}
      ${hasMap ? html`<p class="hint">The strips that are there now, and how they were moved, are replaced; undo brings them back.</p>` : nothing}
      <p class="actions">
        <button type="button" class="main" ?disabled=${!outcome?.ok} @click=${() => (outcome?.ok ? this.#take(outcome.value) : undefined)}>
          Take the drawn strips
        </button>
      </p>
    `;
  }

  #edgeFields(current: TrialDocument): TemplateResult {
    return html`
      <fieldset>
        <legend>The edge line</legend>
        <div class="field-grid">${EDGE_FIELDS.map(({ key, label }) => this.#degreeField(key, label))}
        ${choiceField({
          id: 'edge-side',
          label: 'Looking from its start to its end, the strips lie',
          value: this.side,
          choices: [
            { value: 'right', label: 'on the right' },
            { value: 'left', label: 'on the left' },
          ],
          take: (side) => {
            this.side = side;
          },
        })}
        </div>
        ${this.#pointerWay(current)}
      </fieldset>
    `;
  }

  #degreeField(key: EdgeKey, label: string): TemplateResult {
    const text = this.edge[key];
    const isWrong = text.trim() !== '' && degreesRead(text) === null;
    const take = (event: Event) => {
      if (event.target instanceof HTMLInputElement) this.edge = { ...this.edge, [key]: event.target.value };
    };
    return html`
      <div class="field">
        <label class="field-label" for="edge-${key}">${label}</label>
        <span class="with-unit">
          <input id="edge-${key}" type="text" inputmode="decimal" autocomplete="off" aria-invalid=${isWrong}
            aria-describedby="edge-${key}-fault" .value=${text} @change=${take} />
          <span class="unit">degrees</span>
        </span>
        <span id="edge-${key}-fault" class="fault" role="status">${isWrong ? 'Degrees with decimals; west and south are minus.' : ''}</span>
      </div>
    `;
  }

  #pointerWay(current: TrialDocument): TemplateResult | typeof nothing {
    if (this.isDrawing)
      return html`
        <p role="status">Click or tap the start of the line on the field below, then its end; Escape stops. Set so far: ${drawnCorners.value?.length ?? 0} of 2.</p>
        <p class="actions"><button type="button" class="plain" @click=${this.#stopDrawing}>Stop drawing</button></p>
      `;
    if (this.#ground() !== null)
      return html`<p class="actions"><button type="button" @click=${this.#begin}>Draw the line on the field below</button></p>`;
    if (current.harvestFiles.every(({ kind }) => kind !== 'points')) return nothing;
    return askedJobPanel(bareField, POINT_WORDS, () => html`<p>The files hold no positions to draw on.</p>`);
  }

  /** What there is to draw on: the field as it lies, else the points that were read. */
  #ground(): (FieldDrawing & { readonly frame: LocalFrame }) | null {
    const bare = bareField.state.value;
    const field = lastRun.value?.field ?? (bare.stage === 'done' ? bare.found : null);
    return field === null || field.frame === null ? null : { ...field, frame: field.frame };
  }

  #preview(current: TrialDocument, outcome: Outcome<TakenLayout> | null): TemplateResult | typeof nothing {
    const ground = this.#ground();
    const drawn = outcome?.ok ? drawnUpPreview(outcome.value, ground, current) : ground;
    return drawn === null ? nothing : html`<sv-field-and-points .field=${drawn}></sv-field-and-points>`;
  }

  #stripFields(): TemplateResult {
    return html`
      <fieldset>
        <legend>The strips</legend>
        <div class="field-grid">
          <sv-number class="field" label="Width of a strip" quantity="length" blank="" .value=${this.widthM}
            .take=${(metres: number | null) => {
              this.widthM = metres;
              return true;
            }}></sv-number>
          <sv-number class="field" label="Gap between blocks" quantity="length" blank="0" .value=${this.gapM}
            .take=${(metres: number | null) => {
              this.gapM = metres ?? 0;
              return true;
            }}></sv-number>
        </div>
      </fieldset>
    `;
  }

  #orderField(current: TrialDocument): TemplateResult {
    const take = (event: Event) => {
      if (event.target instanceof HTMLTextAreaElement) this.order = event.target.value;
    };
    const known = current.treatments.map(({ name }) => name).join(', ');
    return html`
      <fieldset class="field">
        <legend>The order of treatments</legend>
        <label class="field-label" for="edge-order">From the line on: one line a block, commas between</label>
        <textarea id="edge-order" rows="6" spellcheck="false" aria-describedby="edge-order-hint" .value=${this.#order(current)} @change=${take}></textarea>
        <span id="edge-order-hint" class="hint">${known === '' ? 'Treatments are made as you name them.' : `In the trial: ${known}.`}</span>
      </fieldset>
    `;
  }

  #order(current: TrialDocument): string {
    return this.order ?? orderText(current);
  }

  /** null: something is not filled in yet. */
  #asked(current: TrialDocument): LayoutToDraw | null {
    const [startLongitude, startLatitude, endLongitude, endLatitude] = EDGE_FIELDS.map(({ key }) =>
      degreesRead(this.edge[key]),
    );
    const order = this.#order(current);
    if (startLongitude == null || startLatitude == null || endLongitude == null || endLatitude == null)
      return null;
    if (this.widthM === null || order.trim() === '') return null;
    return {
      start: [startLongitude, startLatitude],
      end: [endLongitude, endLatitude],
      side: this.side,
      stripWidthM: this.widthM,
      gapM: this.gapM,
      blocks: blocksOfOrder(order, current),
    };
  }

  #take(layout: TakenLayout): void {
    if (!dispatch({ name: 'takeLayout', layout })) return;
    announcement.value = `${counted(layout.strips.length, 'strip')} drawn up.`;
    this.edge = NO_EDGE;
    this.order = null;
    this.isOpen = false;
  }

  readonly #begin = (): void => {
    this.isDrawing = true;
    window.addEventListener('keydown', this.#stopOnEscape);
    drawnCorners.value = [];
    announcement.value = 'Drawing the edge line.';
  };

  readonly #stopOnEscape = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') this.#stopDrawing();
  };

  readonly #stopDrawing = (): void => {
    window.removeEventListener('keydown', this.#stopOnEscape);
    if (this.isDrawing) drawnCorners.value = null;
    this.isDrawing = false;
  };

  readonly #toggled = (event: Event): void => {
    if (event.target instanceof HTMLDetailsElement) this.isOpen = event.target.open;
  };
}

customElements.define('sv-draw-up-layout', DrawUpSection);
