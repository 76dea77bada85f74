import { html, nothing, type PropertyDeclarations } from 'lit';
import { type Quantity, readNumber, shownNumber, unitOf } from '../edge-units.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';

let fieldCount = 0;

/**
 * A labelled number in the trial's own units. `value` is SI; `take` is called with SI, or null for a blank, and
 * says whether the trial took it. What cannot be read stays in the field with a sentence beside it.
 */
export class NumberField extends TurnElement {
  static override readonly properties: PropertyDeclarations = {
    label: {},
    hint: {},
    hiddenLabel: { type: Boolean },
    quantity: {},
    value: { attribute: false },
    take: { attribute: false },
    blank: {},
    fault: { state: true },
  };

  declare label: string;
  declare hint: string;
  /** The label is read out but not shown, as in a table whose heading says it. */
  declare hiddenLabel: boolean;
  declare quantity: Quantity;
  declare value: number | null;
  declare take: (si: number | null) => boolean;
  /** What a blank means, shown in the empty field; without it a blank is refused. */
  declare blank: string | null;
  declare fault: string | null;
  readonly #id = `number-${fieldCount++}`;

  constructor() {
    super();
    this.label = '';
    this.hint = '';
    this.hiddenLabel = false;
    this.quantity = 'plain';
    this.value = null;
    this.take = () => true;
    this.blank = null;
    this.fault = null;
  }

  protected override render() {
    const current = trial.value;
    if (current === null) return nothing;
    const unit = unitOf(this.quantity, current);
    const described = `${this.#id}-hint ${this.#id}-fault`;
    return html`
      <label for=${this.#id} class=${this.hiddenLabel ? 'only-read' : 'field-label'}>
        ${this.label}${this.hiddenLabel && unit.label !== '' ? `, ${unit.label}` : nothing}
      </label>
      <span class="with-unit">
        <input
          id=${this.#id}
          type="text"
          inputmode="decimal"
          autocomplete="off"
          placeholder=${this.blank ?? ''}
          aria-describedby=${described}
          aria-invalid=${this.fault === null ? 'false' : 'true'}
          .value=${shownNumber(this.value, unit)}
          @change=${this.#changed}
        />
        ${this.hiddenLabel || unit.label === '' ? nothing : html`<span class="unit">${unit.label}</span>`}
      </span>
      <span id="${this.#id}-hint" class="hint">${this.hint}</span>
      <span id="${this.#id}-fault" class="fault" role="status">${this.fault}</span>
    `;
  }

  readonly #changed = (event: Event): void => {
    const current = trial.peek();
    if (current === null || !(event.target instanceof HTMLInputElement)) return;
    const unit = unitOf(this.quantity, current);
    const text = event.target.value;
    if (text.trim() === shownNumber(this.value, unit)) {
      this.fault = null;
      return;
    }
    const read = readNumber(text, unit);
    if (!read.ok) {
      this.fault = `“${text}” is not a number. Type digits, with a point or comma for decimals.`;
    } else if (read.si === null && this.blank === null) {
      this.fault = 'A number is needed here.';
    } else {
      this.fault = this.take(read.si) ? null : 'The trial cannot take this value; the one before it stands.';
    }
  };
}

customElements.define('sv-number', NumberField);
