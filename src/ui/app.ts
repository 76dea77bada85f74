import { html, nothing, type TemplateResult } from 'lit';
import { faultPanel } from './fault-panel.ts';
import { clearRemarks, noticePanel } from './notice-panel.ts';
import { saveTrial } from './saving.ts';
import './stage-bar.ts';
import './stages/answer-stage.ts';
import './stages/handout-stage.ts';
import './stages/harvest-stage.ts';
import './stages/layout-stage.ts';
import './stages/trial-stage.ts';
import './parts/progress-panel.ts';
import './start-page.ts';
import { isAnalysing, isAnalysisSlow } from './state/analysis.ts';
import { changedElsewhere, keeping, openKept } from './state/keeping.ts';
import { closeTrial, isOpening, openPicked } from './state/opening.ts';
import { STAGE_NAMES, type Stage, stage } from './state/router.ts';
import {
  announcement,
  canRedo,
  canUndo,
  EDIT_NAMES,
  redoEdit,
  session,
  trial,
  undoEdit,
} from './state/session.ts';
import { TurnElement } from './state/turn-element.ts';

/** The whole page: what is open, the stage bar, the stage, and what was last said. Files may be dropped anywhere. */
export class App extends TurnElement {
  #shownStage: Stage | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('dragover', this.#dragOver);
    addEventListener('dragleave', this.#dragLeave);
    addEventListener('drop', this.#drop);
    addEventListener('keydown', this.#key);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('dragover', this.#dragOver);
    removeEventListener('dragleave', this.#dragLeave);
    removeEventListener('drop', this.#drop);
    removeEventListener('keydown', this.#key);
  }

  protected override render(): TemplateResult {
    const current = trial.value;
    return html`
      <a class="skip-link" href="#content" @click=${this.#skip}>Go to the content</a>
      ${current === null ? nothing : this.#header(current.name)}
      <main id="content" tabindex="-1" class=${current === null ? 'start' : `stage-${stage.value}`}>
        ${faultPanel()} ${this.#otherTab()} ${this.#notKept()} ${noticePanel()}
        ${isOpening.value ? html`<p class="opening">Reading the files …</p>` : nothing}
        ${current === null ? html`<sv-start-page></sv-start-page>` : stageElement(stage.value)}
      </main>
      ${current === null ? nothing : progressElsewhere()}
      <p class="only-read" role="status" aria-live="polite">${announcement.value}</p>
    `;
  }

  protected override updated(): void {
    const shown = session.peek() === null ? null : stage.peek();
    document.title =
      shown === null ? 'Stripverdict' : `${STAGE_NAMES[shown]} · ${trial.peek()?.name} · Stripverdict`;
    const moved = this.#shownStage !== null && shown !== null && shown !== this.#shownStage;
    this.#shownStage = shown;
    if (!moved) return;
    clearRemarks();
    scrollTo(0, 0);
    this.querySelector<HTMLElement>('#content')?.focus({ preventScroll: true });
  }

  #header(name: string): TemplateResult {
    const back = session.value?.history.past.at(-1);
    const again = session.value?.history.future[0];
    return html`
      <header class="page-head">
        <div class="page-title">
          <span class="product">Stripverdict</span>
          <span class="trial-name">${name || 'a trial without a name'}</span>
        </div>
        <div class="page-tools">
          <button type="button" ?disabled=${!canUndo.value} @click=${undoEdit}
            title=${back === undefined ? 'Nothing to undo' : `Undo ${EDIT_NAMES[back.edit]} (Ctrl+Z)`}>Undo</button>
          <button type="button" ?disabled=${!canRedo.value} @click=${redoEdit}
            title=${again === undefined ? 'Nothing to redo' : `Redo ${EDIT_NAMES[again.edit]} (Ctrl+Shift+Z)`}>Redo</button>
          <button type="button" @click=${saveTrial} title="Ctrl+S">Save to a file</button>
          <button type="button" @click=${() => void closeTrial()}>Close</button>
          <span class="kept-state">${KEEPING_SAYS[keeping.value]}</span>
        </div>
        <sv-stage-bar></sv-stage-bar>
      </header>
    `;
  }

  #otherTab(): TemplateResult | typeof nothing {
    const key = session.value?.key;
    if (!changedElsewhere.value || key === undefined) return nothing;
    return html`
      <section class="notice" role="alert">
        <p>This trial was changed in another tab. Going on here will replace what was kept there.</p>
        <p class="actions">
          <button type="button" class="main" @click=${() => void openKept(key)}>Take what the other tab has</button>
          <button type="button" @click=${() => {
            changedElsewhere.value = false;
          }}>Go on with this one</button>
        </p>
      </section>
    `;
  }

  #notKept(): TemplateResult | typeof nothing {
    if (keeping.value !== 'failed') return nothing;
    return html`
      <section class="notice" role="alert">
        <p>This browser does not keep the trial (private window, or storage full). Save it to a file before closing.</p>
      </section>
    `;
  }

  readonly #skip = (event: Event): void => {
    // The address belongs to the stages, so the jump is made here.
    event.preventDefault();
    this.querySelector<HTMLElement>('#content')?.focus();
  };

  readonly #dragOver = (event: DragEvent): void => {
    event.preventDefault();
    this.classList.add('dropping');
  };

  readonly #dragLeave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.classList.remove('dropping');
  };

  readonly #drop = (event: DragEvent): void => {
    this.classList.remove('dropping');
    // Where a part of the page takes files for a purpose of its own, they are that part's.
    if (event.defaultPrevented) return;
    event.preventDefault();
    void openPicked([...(event.dataTransfer?.files ?? [])]);
  };

  readonly #key = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || session.peek() === null) return;
    const key = event.key.toLowerCase();
    if (key === 's') take(event, saveTrial);
    // Within an entry field the keys belong to the text that is being typed.
    if (event.target instanceof HTMLInputElement && event.target.type === 'text') return;
    if (key === 'z' && !event.shiftKey) take(event, undoEdit);
    if (key === 'y' || (key === 'z' && event.shiftKey)) take(event, redoEdit);
  };
}

/** On the pages whose subject is not the answer: beside the content, which must not jump when it comes and goes. */
function progressElsewhere(): TemplateResult | typeof nothing {
  const isElsewhere = stage.value === 'trial' || stage.value === 'layout';
  if (!isElsewhere || !isAnalysing.value || !isAnalysisSlow.value) return nothing;
  return html`<div class="progress-aside"><sv-progress></sv-progress></div>`;
}

function take(event: Event, action: () => void): void {
  event.preventDefault();
  action();
}

const KEEPING_SAYS = {
  nothing: '',
  pending: 'keeping …',
  kept: 'kept in this browser',
  failed: 'not kept',
} as const;

function stageElement(shown: Stage): TemplateResult {
  switch (shown) {
    case 'trial':
      return html`<sv-trial-stage></sv-trial-stage>`;
    case 'layout':
      return html`<sv-layout-stage></sv-layout-stage>`;
    case 'harvest':
      return html`<sv-harvest-stage></sv-harvest-stage>`;
    case 'answer':
      return html`<sv-answer-stage></sv-answer-stage>`;
    case 'handout':
      return html`<sv-handout-stage></sv-handout-stage>`;
  }
}

customElements.define('sv-app', App);
