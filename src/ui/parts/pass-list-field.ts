import { html, type PropertyDeclarations, type TemplateResult } from 'lit';
import { passListText, readPassList } from '../../trial/pass-list.ts';
import { passListFaultWords } from '../../words/pass-words.ts';
import { SignalElement } from '../state/signal-element.ts';

let fieldCount = 0;

/**
 * A labelled list of passes, "3-4, 7". `take` is called with their numbers and says what is wrong with them, or null.
 * What cannot be read stays in the field with a sentence beside it.
 */
export class PassListField extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    label: {},
    hiddenLabel: { type: Boolean },
    hint: {},
    value: { attribute: false },
    last: { attribute: false },
    take: { attribute: false },
    fault: { state: true },
  };

  declare label: string;
  declare hiddenLabel: boolean;
  declare hint: string;
  declare value: readonly number[];
  /** The highest number there is. */
  declare last: number;
  declare take: (passes: readonly number[]) => string | null;
  declare fault: string | null;
  readonly #id = `passes-${fieldCount++}`;

  constructor() {
    super();
    this.label = '';
    this.hiddenLabel = false;
    this.hint = '';
    this.value = [];
    this.last = 0;
    this.take = () => null;
    this.fault = null;
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    const before = changed.get('value') as readonly number[] | undefined;
    if (before !== undefined && passListText(before) !== passListText(this.value)) this.fault = null;
  }

  protected override render(): TemplateResult {
    return html`
      <label for=${this.#id} class=${this.hiddenLabel ? 'only-read' : 'field-label'}>${this.label}</label>
      <input
        id=${this.#id}
        type="text"
        autocomplete="off"
        placeholder="none"
        aria-describedby="${this.#id}-hint ${this.#id}-fault"
        aria-invalid=${this.fault === null ? 'false' : 'true'}
        .value=${passListText(this.value)}
        @change=${this.#changed}
      />
      <span id="${this.#id}-hint" class="hint">${this.hint}</span>
      <span id="${this.#id}-fault" class="fault" role="status">${this.fault}</span>
    `;
  }

  readonly #changed = (event: Event): void => {
    if (!(event.target instanceof HTMLInputElement)) return;
    const read = readPassList(event.target.value, this.last);
    this.fault = read.ok
      ? this.take(read.passes)
      : `“${read.part}”: ${passListFaultWords(read.fault)}${read.fault === 'beyond' ? `; the last is ${this.last}` : ''}.`;
  };
}

customElements.define('sv-pass-list', PassListField);
