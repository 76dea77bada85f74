import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { saveTrial } from './saving.ts';
import { trial } from './state/session.ts';

/** A fault of ours that nothing else caught. The page stays, and says what to do. */
const fault = signal<string | null>(null);

/** The browser says this when a size changes while it tells of a size; it is no fault and loses nothing. */
const HARMLESS = /ResizeObserver loop/;

export function watchForFaults(): void {
  addEventListener('error', (event) => {
    if (!HARMLESS.test(event.message)) fault.value = event.message || 'a part of the page did not load';
  });
  addEventListener('unhandledrejection', ({ reason }) => {
    fault.value = reason instanceof Error ? reason.message : String(reason);
  });
}

export function faultPanel(): TemplateResult | typeof nothing {
  const message = fault.value;
  if (message === null) return nothing;
  return html`
    <section class="fault-panel" role="alert" aria-labelledby="fault-heading">
      <h2 id="fault-heading">Something in Stripverdict itself went wrong</h2>
      <p>
        Your trial is still here${trial.value === null ? '' : ' and nothing that you entered was dropped'}. Save it to
        a file, then load this page again and open that file. If it happens again, the line below tells whoever mends
        the program where to look.
      </p>
      <p class="quiet">${message}</p>
      <p class="actions">
        ${trial.value === null ? nothing : html`<button type="button" class="main" @click=${saveTrial}>Save the trial to a file</button>`}
        <button type="button" @click=${() => location.reload()}>Load the page again</button>
        <button type="button" @click=${() => {
          fault.value = null;
        }}>Go on without</button>
      </p>
    </section>
  `;
}
