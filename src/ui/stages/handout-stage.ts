import { html, nothing, type TemplateResult } from 'lit';
import { progressPanel } from '../parts/progress-panel.ts';
import { analysis } from '../state/analysis.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

/** One page for the grower's table. */
export class HandoutStage extends SignalElement {
  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const state = analysis.value;
    return html`
      <h1>Handout</h1>
      ${progressPanel(state)}
      <p class="actions"><button type="button" class="main" @click=${() => print()}>Print</button></p>
    `;
  }
}

customElements.define('sv-handout-stage', HandoutStage);
