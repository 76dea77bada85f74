import { html, nothing, type TemplateResult } from 'lit';
import type { ReportAnswer, ReportModel, ReportResponse } from '../../findings/report-model.ts';
import { lateChangeWords } from '../../words/setting-words.ts';
import { MONEY_NOT_KNOWN, NUMBERS_ONLY, VERDICT_GLOSSARY } from '../../words/verdict-glossary.ts';
import { inParts } from '../parts/page-part.ts';
import { cleaningDecides } from './cleanings-section.ts';

/** Sentences in large type hold only as long as there are few of them. */
const FEW = 2;
const ANSWERS_A_PART = 12;

/** Each comparison that matters: the sentence, the two verdicts, and why. */
export function answersSection({ answers, name }: ReportResponse): TemplateResult {
  return html`
    <section class="answers ${answers.length > FEW ? 'many' : 'few'}" aria-label="Answers for ${name}">
      ${inParts(answers, ANSWERS_A_PART, answerArticle)}
    </section>
  `;
}

/** What all the answers rest on: what weakens them, what would settle them, what the verdicts mean. */
export function aboutAnswers(
  { answers, cleanings: found }: ReportResponse,
  report: ReportModel,
): TemplateResult {
  return html`
    ${lateChanges(report)} ${found === null ? cleaningSays() : nothing}
    <div class="side-by-side">
      ${saidOnce('weakens-heading', 'What makes it weaker', answers, ({ weakens }) => weakens)}
      ${saidOnce('settle-heading', 'What would settle it', answers, ({ wouldSettle }) => wouldSettle)}
    </div>
    ${glossary(answers)}
  `;
}

/** Of large files, which the report does not try: known once all cleanings were tried on the Harvest page. */
function cleaningSays(): TemplateResult | typeof nothing {
  const says = cleaningDecides();
  if (says === null) return nothing;
  return html`<section class="notice"><p>${says} <a href="#/harvest">See which</a>.</p></section>`;
}

function answerArticle(answer: ReportAnswer): TemplateResult {
  return html`
    <article class="answer">
      <h2>${answer.a} against ${answer.b}</h2>
      <p class="answer-sentence">${answer.sentence}</p>
      <dl class="verdicts">
        <div>
          <dt>Difference</dt>
          <dd class=${verdictClass(answer.difference)}>${answer.difference ?? NUMBERS_ONLY}</dd>
        </div>
        <div>
          <dt>Money</dt>
          <dd class=${verdictClass(answer.money)}>${answer.money ?? MONEY_NOT_KNOWN}</dd>
        </div>
      </dl>
      ${
        answer.reasons.length === 0
          ? nothing
          : html`
            <details>
              <summary>Why</summary>
              <ul>${answer.reasons.map((reason) => html`<li>${reason}</li>`)}</ul>
            </details>`
      }
    </article>
  `;
}

/** Settled verdicts stand in a full frame, open ones in a broken frame. */
function verdictClass(verdict: string | null): string {
  const isOpen = verdict === null || verdict === 'Not settled' || verdict === 'May pay';
  return isOpen ? 'verdict is-open' : 'verdict is-settled';
}

function lateChanges({ trial }: ReportModel): TemplateResult | typeof nothing {
  const late = trial.changedAfterSeeing;
  if (late.length === 0) return nothing;
  return html`
    <section aria-labelledby="late-heading">
      <h2 id="late-heading">Changed after the harvest was seen</h2>
      <ul>
        ${late.map((change) => html`<li>${lateChangeWords(change)}</li>`)}
      </ul>
    </section>
  `;
}

/** A remark that belongs to every answer is said once; one that belongs to some names them. */
function saidOnce(
  id: string,
  heading: string,
  answers: readonly ReportAnswer[],
  remarksOf: (answer: ReportAnswer) => readonly string[],
): TemplateResult | typeof nothing {
  const remarks = [...new Set(answers.flatMap(remarksOf))];
  if (remarks.length === 0) return nothing;
  return html`
    <section aria-labelledby=${id}>
      <h2 id=${id}>${heading}</h2>
      <ul>
        ${remarks.map((remark) => {
          const of = answers.filter((answer) => remarksOf(answer).includes(remark));
          const whose =
            of.length === answers.length ? '' : of.map(({ a, b }) => `${a} against ${b}`).join('; ');
          return html`<li>${remark}${whose === '' ? nothing : html` <span class="quiet">(${whose})</span>`}</li>`;
        })}
      </ul>
    </section>
  `;
}

function glossary(answers: readonly ReportAnswer[]): TemplateResult | typeof nothing {
  const verdicts = [
    ...new Set(answers.flatMap(({ difference, money }) => [difference ?? [], money ?? []].flat())),
  ];
  if (verdicts.length === 0) return nothing;
  return html`
    <details>
      <summary>What these verdicts mean</summary>
      <dl class="glossary">
        ${verdicts.map((verdict) => html`<dt>${verdict}</dt><dd>${VERDICT_GLOSSARY[verdict] ?? ''}</dd>`)}
      </dl>
    </details>
  `;
}
