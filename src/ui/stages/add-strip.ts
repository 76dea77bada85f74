import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import type { Strip, TrialDocument } from '../../trial/trial-document.ts';
import { choiceField, textField } from '../parts/fields.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

/** One more strip in a trial whose strips are listed by their passes. */
export class AddStrip extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    strip: { state: true },
    treatment: { state: true },
    block: { state: true },
    fault: { state: true },
  };

  /** null: the next free name. */
  declare strip: string | null;
  /** null: the first. */
  declare treatment: string | null;
  declare block: string | null;
  declare fault: string;

  constructor() {
    super();
    this.strip = null;
    this.treatment = null;
    this.block = null;
    this.fault = '';
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null || current.treatments.length === 0) return nothing;
    return html`
      <details>
        <summary>Add a strip</summary>
        <div class="field-grid">
          ${textField({
            id: 'new-strip',
            label: 'Name of the strip',
            value: this.#name(current),
            take: (name) => {
              this.strip = name.trim() === '' ? null : name.trim();
            },
          })}
          ${choiceField({
            id: 'new-strip-treatment',
            label: 'Its treatment',
            value: this.#treatment(current),
            choices: current.treatments.map(({ id, name }) => ({ value: id, label: name })),
            take: (id) => {
              this.treatment = id;
            },
          })}
          ${
            current.blocks.length === 0
              ? nothing
              : choiceField({
                  id: 'new-strip-block',
                  label: 'Its block',
                  value: this.#block(current),
                  choices: current.blocks.map(({ id, name }) => ({ value: id, label: name })),
                  take: (id) => {
                    this.block = id;
                  },
                })
          }
        </div>
        <p class="actions"><button type="button" @click=${() => this.#add(current)}>Add this strip</button></p>
        <p class="fault" role="status">${this.fault}</p>
      </details>
    `;
  }

  #name(current: TrialDocument): string {
    return this.strip ?? nextName(current.strips);
  }

  #treatment({ treatments }: TrialDocument): string {
    return (treatments.find(({ id }) => id === this.treatment) ?? treatments[0])?.id ?? '';
  }

  #block({ blocks }: TrialDocument): string {
    return (blocks.find(({ id }) => id === this.block) ?? blocks.at(-1))?.id ?? '';
  }

  #add(current: TrialDocument): void {
    const id = this.#name(current);
    if (current.strips.some((strip) => strip.id === id)) {
      this.fault = `There is a strip ${id} already.`;
      return;
    }
    const strip: Strip = {
      id,
      treatment: this.#treatment(current),
      block: current.blocks.length === 0 ? null : this.#block(current),
      place: null,
      polygon: null,
      passes: [],
    };
    if (!dispatch({ name: 'addStrip', strip })) return;
    this.strip = null;
    this.fault = '';
    announcement.value = `Strip ${id} is added; say which passes it was harvested in.`;
  }
}

/** S9 after S8; where names end in no number, the number of the strip. */
function nextName(strips: readonly Strip[]): string {
  const taken = new Set(strips.map(({ id }) => id));
  const [, stem = '', last = String(strips.length)] = /^(.*?)(\d+)$/.exec(strips.at(-1)?.id ?? '') ?? [];
  let number = Number(last) + 1;
  while (taken.has(`${stem}${number}`)) number += 1;
  return `${stem}${number}`;
}

customElements.define('sv-add-strip', AddStrip);
