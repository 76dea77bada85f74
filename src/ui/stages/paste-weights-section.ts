import { html, type PropertyDeclarations, type TemplateResult } from 'lit';
import { openPicked } from '../state/opening.ts';
import { SignalElement } from '../state/signal-element.ts';

/** Under this name the table is kept; pasted again it takes the place of the one before. */
const NAME = 'pasted weights.csv';

/** A table of weights or counts copied from a spreadsheet, taken as a file would be. */
export class PasteWeights extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    fault: { state: true },
  };

  declare fault: string;

  constructor() {
    super();
    this.fault = '';
  }

  protected override render(): TemplateResult {
    return html`
      <details>
        <summary>Paste a table of weights</summary>
        <div class="field">
          <label class="field-label" for="pasted-weights">One row for each strip or sample, headings in the first line</label>
          <textarea id="pasted-weights" rows="8" spellcheck="false" aria-describedby="pasted-weights-hint"></textarea>
          <span id="pasted-weights-hint" class="hint">
            Strip (or treatment and block), weight, moisture, length and width, with their units in the headings; further columns
            of numbers, such as counts, are answered too. It is kept in this browser as “${NAME}”: save the table as well if the
            trial is to go elsewhere.
          </span>
        </div>
        <p class="fault" role="status">${this.fault}</p>
        <p class="actions"><button type="button" @click=${() => void this.#take()}>Take this table</button></p>
      </details>
    `;
  }

  async #take(): Promise<void> {
    const text = this.querySelector('textarea')?.value ?? '';
    this.fault = text.trim().includes('\n') ? '' : 'Paste the headings and at least one row.';
    if (this.fault === '') await openPicked([new File([text], NAME, { type: 'text/csv' })]);
  }
}

customElements.define('sv-paste-weights', PasteWeights);
