import { html, nothing, type TemplateResult } from 'lit';
import type { KeptTrial } from '../store/kept-trials.ts';
import { DEMOS, type Demo, demoFiles } from './demos.ts';
import { filePicker } from './parts/file-picker.ts';
import { forgetKept, keptTrials, openKept } from './state/keeping.ts';
import { openFiles, startEmptyTrial } from './state/opening.ts';
import { goTo } from './state/router.ts';
import { notice, session } from './state/session.ts';
import { TurnElement } from './state/turn-element.ts';

/** Two ways in, the demo or one's own files, and the trials that this browser has kept. */
export class StartPage extends TurnElement {
  protected override render(): TemplateResult {
    return html`
      <div class="start-page">
        <h1>Stripverdict</h1>
        <p class="lead">
          Did the product really make a difference in your strips, and did it pay? An honest answer from your layout
          and your harvest, also when the answer is that the trial cannot tell.
        </p>
        <div class="ways-in">
          <section aria-labelledby="own-heading">
            <h2 id="own-heading">Your own trial</h2>
            <p>
              Drop files anywhere on this page, several at once: the strips (GeoJSON, KML, shapefile), the harvest (the
              yield monitor’s CSV, shapefile or task data, or a table of weights per strip), or a trial that was saved here.
            </p>
            <p class="actions">
              ${filePicker('Choose files', 'main')}
              <button type="button" @click=${begin}>Begin with an empty trial</button>
            </p>
          </section>
          <section aria-labelledby="demo-heading">
            <h2 id="demo-heading">A trial to look at</h2>
            <p>Invented fields with a finished harvest. Look around, change things, undo: nothing can break.</p>
            <ul class="demo-list">${DEMOS.map(demoButton)}</ul>
          </section>
        </div>
        ${keptList(keptTrials.value)}
        <p class="quiet">
          Everything happens in this browser. No file and no figure leaves this machine, and the page works without a
          network.
        </p>
      </div>
    `;
  }
}

function demoButton({ folder, title }: Demo): TemplateResult {
  return html`<li><button type="button" class="main" @click=${() => void openDemo(folder)}>${title}</button></li>`;
}

async function openDemo(folder: string): Promise<void> {
  try {
    await openFiles(await demoFiles(folder));
  } catch {
    notice.value = {
      text: 'The demo could not be read. Load the page again and try once more.',
      problems: [],
    };
  }
  if (session.peek() !== null) goTo('answer');
}

function keptList(kept: readonly KeptTrial[]): TemplateResult | typeof nothing {
  if (kept.length === 0) return nothing;
  return html`
    <section aria-labelledby="kept-heading">
      <h2 id="kept-heading">Kept in this browser</h2>
      <ul class="kept-list">
        ${kept.map(
          ({ key, name, savedAt }) => html`
            <li>
              <button type="button" @click=${() => void openKept(key)}>${name || 'A trial without a name'}</button>
              <span class="quiet">${savedAt.slice(0, 16).replace('T', ' ')} UTC</span>
              <button type="button" class="plain" aria-label="Forget ${name}" @click=${() => void forget(key, name)}>Forget</button>
            </li>
          `,
        )}
      </ul>
    </section>
  `;
}

async function forget(key: string, name: string): Promise<void> {
  const sure = confirm(
    `Forget “${name || 'this trial'}” and its files in this browser? This cannot be undone.`,
  );
  if (sure) await forgetKept(key);
}

function begin(): void {
  startEmptyTrial();
  goTo('trial');
}

customElements.define('sv-start-page', StartPage);
