import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import { typed, typing, unlessTyping } from './unless-typing.ts';

/** Labelled native controls, drawn with the page. */
export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string;
}

export interface TextFieldOptions {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly take: (text: string) => void;
  readonly hint?: string;
  readonly suggestions?: readonly string[];
  readonly hiddenLabel?: boolean;
  /** What stands in it is long. */
  readonly isWide?: boolean;
}

export function textField(options: TextFieldOptions): TemplateResult {
  const { id, suggestions } = options;
  return html`
    <div class=${options.isWide ? 'field is-wide' : 'field'}>
      <label for=${id} class=${options.hiddenLabel ? 'only-read' : 'field-label'}>${options.label}</label>
      <input
        id=${id}
        type="text"
        autocomplete="off"
        list=${suggestions === undefined ? nothing : `${id}-list`}
        .value=${unlessTyping(options.value)}
        @input=${typing}
        @change=${(event: Event) => {
          typed(event);
          options.take(inputText(event));
        }}
      />
      ${suggestions === undefined ? nothing : html`<datalist id="${id}-list">${suggestions.map((s) => html`<option value=${s}></option>`)}</datalist>`}
      ${options.hint === undefined ? nothing : html`<span class="hint">${options.hint}</span>`}
    </div>
  `;
}

export interface ChoiceFieldOptions<T extends string> {
  readonly id: string;
  readonly label: string;
  readonly value: T;
  readonly choices: readonly Choice<T>[];
  readonly take: (value: T) => void;
  readonly hint?: string;
  readonly hiddenLabel?: boolean;
  /** What stands in it is long. */
  readonly isWide?: boolean;
}

export function choiceField<T extends string>(options: ChoiceFieldOptions<T>): TemplateResult {
  const chosen = (event: Event) => {
    const found = options.choices.find(({ value }) => value === inputText(event));
    if (found !== undefined) options.take(found.value);
  };
  return html`
    <div class=${options.isWide ? 'field is-wide' : 'field'}>
      <label for=${options.id} class=${options.hiddenLabel ? 'only-read' : 'field-label'}>${options.label}</label>
      <select id=${options.id} @change=${chosen}>
        ${options.choices.map(
          ({ value, label }) =>
            html`<option value=${value} .selected=${live(value === options.value)}>${label}</option>`,
        )}
      </select>
      ${options.hint === undefined ? nothing : html`<span class="hint">${options.hint}</span>`}
    </div>
  `;
}

function inputText(event: Event): string {
  const { target } = event;
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement ? target.value : '';
}
