import { html, nothing, type TemplateResult } from 'lit';
import { detectableCurve } from '../../figures/detectable-curve.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { planningSentences, RECKONED_AS_BLOCKS } from '../../words/planning-sentences.ts';
import '../parts/figure-frame.ts';
import '../parts/number-field.ts';
import {
  blocksAsked,
  cvAsked,
  keepPlanningCurrent,
  ownCvPercent,
  type PlanningAnswer,
  type PlanningQuestion,
  planningAnswer,
  planningQuestion,
} from '../state/planning.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';

const MOST_BLOCKS = 60;

/** Asked before the season: will this trial be able to answer? */
export class ReplicatesSection extends TurnElement {
  protected override whileShown(): () => void {
    return keepPlanningCurrent();
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    return html`
      <section aria-labelledby="replicates-heading">
        <h2 id="replicates-heading">Are there enough replicates?</h2>
        ${questionFields(planningQuestion.value, current)}
        <div aria-live="polite">${answered(planningAnswer.value)}</div>
        ${isPlain(current) ? nothing : html`<p class="hint">${RECKONED_AS_BLOCKS}</p>`}
      </section>
    `;
  }
}

/** Planning knows blocks, or strips without them. */
function isPlain({ inference }: TrialDocument): boolean {
  return inference.square !== true && inference.factors?.split !== true;
}

function questionFields(asked: PlanningQuestion, current: TrialDocument): TemplateResult {
  const things = current.design === 'completelyRandomized' ? 'Strips of each treatment' : 'Blocks';
  return html`
    <div class="field-grid">
      <sv-number class="field" label="Difference worth having" quantity="percent" hint="Of the mean: what a product must bring to matter to you."
        .value=${asked.differencePercent} .take=${takePositive('differencePercent')}></sv-number>
      <sv-number class="field" label="Expected CV of strips" quantity="percent" .hint=${cvHint()}
        .value=${cvAsked(asked)} .take=${takePositive('cvPercent')}></sv-number>
      <sv-number class="field" .label=${things} quantity="plain" hint="As laid out, or to try others."
        .value=${blocksAsked(asked, current)} .take=${takeBlocks}></sv-number>
      <sv-number class="field" label="Chance of finding it" quantity="plain" hint="Called power; 0.8 is usual."
        .value=${asked.power} .take=${takePower}></sv-number>
    </div>
  `;
}

/** The trial's own strips say it best, once they are harvested. */
function cvHint(): string {
  const own = ownCvPercent();
  const usual = '5 to 10 % is usual for strips, below 5 % excellent.';
  return own === null ? usual : `${usual} The strips of this trial came to ${own} %.`;
}

function answered(answer: PlanningAnswer): TemplateResult {
  if (answer === null) return html`<p class="quiet">Working it out …</p>`;
  if (answer === 'cannotBeAsked')
    return html`<p>This needs at least two treatments, pairs to compare, and a chance above the significance level.</p>`;
  if (answer === 'failed')
    return html`<p class="fault">This could not be worked out, through a fault of the program.</p>`;
  const said = planningSentences(answer);
  return html`
    <p class="plan-answer is-${answer.verdict}">${said.answer}</p>
    <ul>${said.further.map((sentence) => html`<li>${sentence}</li>`)}</ul>
    <sv-figure file="detectable-difference.svg" .draw=${(widthPx: number) => detectableCurve(answer, { widthPx: Math.min(widthPx, 760) })}></sv-figure>
  `;
}

function takePositive(name: 'cvPercent' | 'differencePercent'): (value: number | null) => boolean {
  return (value) => value !== null && value > 0 && value <= 1000 && ask({ [name]: value });
}

function takeBlocks(blocks: number | null): boolean {
  return (
    blocks !== null && Number.isInteger(blocks) && blocks >= 1 && blocks <= MOST_BLOCKS && ask({ blocks })
  );
}

function takePower(power: number | null): boolean {
  const alpha = trial.peek()?.inference.alpha ?? 0;
  return power !== null && power > alpha && power < 1 && ask({ power });
}

function ask(changes: Partial<PlanningQuestion>): true {
  planningQuestion.value = { ...planningQuestion.peek(), ...changes };
  return true;
}

customElements.define('sv-replicates', ReplicatesSection);
