import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { passListText } from '../../trial/pass-list.ts';
import type { Problem } from '../../trial/problem.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { problemSentence } from '../../words/problem-sentences.ts';
import { saidProblem } from '../notice-panel.ts';
import { takeStripList } from '../state/opening.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

const HEADINGS = 'strip; treatment; block';

/** Strips that were never mapped, typed or pasted as a list; where they lie is said by their harvest passes later. */
export class StripListSection extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    problems: { state: true },
  };

  declare problems: readonly Problem[];

  constructor() {
    super();
    this.problems = [];
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null || current.strips.some(({ polygon }) => polygon !== null)) return nothing;
    const isNew = current.strips.length === 0;
    return html`
      <section aria-labelledby="strip-list-heading">
        <h2 id="strip-list-heading">${isNew ? 'No map of the strips?' : 'Strips without a map'}</h2>
        <p>
          ${isNew ? 'List them instead. Each strip is then' : 'Each strip is'} the ground that its own harvest passes cut.
          Which passes these are is said on the Harvest page, once the yield monitor’s file is there.
        </p>
        ${isNew ? this.#form(current) : html`<details><summary>Change the list</summary>${this.#form(current)}</details>`}
      </section>
    `;
  }

  #form(current: TrialDocument): TemplateResult {
    return html`
      <div class="field">
        <label class="field-label" for="strip-list">One strip a line, in the order in which they lie</label>
        <textarea id="strip-list" rows="10" spellcheck="false" aria-describedby="strip-list-hint" .value=${listOf(current)}></textarea>
        <span id="strip-list-hint" class="hint">
          The first line names the columns. A table copied from a spreadsheet can be pasted over it; a column “passes” may
          say which passes a strip was harvested in.
        </span>
      </div>
      ${this.problems.length === 0 ? nothing : html`<ul class="problems" role="status">${this.problems.map((one) => saidProblem({ ...one, ...problemSentence(one) }))}</ul>`}
      <p class="actions"><button type="button" @click=${() => void this.#take()}>Take these strips</button></p>
    `;
  }

  async #take(): Promise<void> {
    const text = this.querySelector('textarea')?.value ?? '';
    this.problems = await takeStripList(text);
  }
}

/** The strips that there are, or an empty list with its headings. */
function listOf({ strips, treatments, blocks }: TrialDocument): string {
  const names = new Map(treatments.map(({ id, name }) => [id, name]));
  const blockNames = new Map(blocks.map(({ id, name }) => [id, name]));
  const hasPasses = strips.some(({ passes }) => (passes?.length ?? 0) > 0);
  const rows = strips.map(({ id, treatment, block, passes }) => [
    id,
    names.get(treatment) ?? treatment,
    block === null ? '' : (blockNames.get(block) ?? block),
    ...(hasPasses ? [passListText(passes ?? [])] : []),
  ]);
  const headings = hasPasses ? `${HEADINGS}; passes` : HEADINGS;
  return [headings, ...rows.map((row) => row.map(cell).join('; ')), ''].join('\n');
}

function cell(text: string): string {
  return /[;"\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

customElements.define('sv-strip-list', StripListSection);
