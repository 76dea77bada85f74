import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { differencesAgainstBreakEven } from '../../figures/differences-against-break-even.ts';
import { stripsInFieldOrder } from '../../figures/strips-in-field-order.ts';
import { treatmentMeans } from '../../figures/treatment-means.ts';
import type { ReportModel, ReportResponse } from '../../findings/report-model.ts';
import { saidProblem } from '../notice-panel.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/figure-frame.ts';
import { progressPanel } from '../parts/progress-panel.ts';
import { analysis } from '../state/analysis.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { answerTables } from './answer-tables.ts';
import { answersSection } from './answers-section.ts';
import { reportDownloads } from './report-downloads.ts';
import { whatItRestsOn } from './what-it-rests-on.ts';

/** The answer first, as a sentence and a picture; tables and checks beneath, opening on demand. */
export class AnswerStage extends SignalElement {
  static override readonly properties: PropertyDeclarations = { chosenResponse: { state: true } };

  declare chosenResponse: string | null;

  constructor() {
    super();
    this.chosenResponse = null;
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const state = analysis.value;
    const report = state.last?.report ?? null;
    const response = report === null ? null : this.#response(report);
    return html`
      <h1>Answer</h1>
      ${progressPanel(state)} ${report === null || response === null ? nothing : this.#choice(report, response)}
      ${response === null ? nothingToAnswer(report) : answered(report as ReportModel, response)}
      ${report === null ? nothing : html`${whatItRestsOn(report)} ${reportDownloads(report, current)}`}
    `;
  }

  #response(report: ReportModel): ReportResponse | null {
    return report.responses.find(({ name }) => name === this.chosenResponse) ?? report.responses[0] ?? null;
  }

  #choice(report: ReportModel, response: ReportResponse): TemplateResult | typeof nothing {
    if (report.responses.length < 2) return nothing;
    return choiceField({
      id: 'response',
      label: 'Response',
      value: response.name,
      choices: report.responses.map(({ name, unit }) => ({
        value: name,
        label: unit === null ? name : `${name}, ${unit}`,
      })),
      take: (name) => {
        this.chosenResponse = name;
      },
    });
  }
}

function nothingToAnswer(report: ReportModel | null): TemplateResult {
  const problems = report?.problems ?? [];
  return html`
    <section>
      <p class="lead">There is no answer yet. It needs strips (Layout) and what was harvested from them (Harvest).</p>
      ${problems.length === 0 ? nothing : html`<ul class="problems">${problems.map(saidProblem)}</ul>`}
    </section>
  `;
}

function answered(report: ReportModel, response: ReportResponse): TemplateResult {
  if (response.refusal !== null) {
    return html`
      <section class="refusal">
        <p class="lead">${response.refusal.message}</p>
        <p>${response.refusal.whatWouldHelp}</p>
      </section>
      ${figures(report, response)}
    `;
  }
  return html`${answersSection(response, report)} ${figures(report, response)} ${answerTables(report, response)}`;
}

function figures(report: ReportModel, { name, answers, means }: ReportResponse): TemplateResult {
  return html`
    <section aria-labelledby="field-order-heading">
      <h2 id="field-order-heading">Strips in field order</h2>
      <sv-figure file="strips-in-field-order.svg"
        .draw=${(widthPx: number) => stripsInFieldOrder(report, name, { widthPx })}></sv-figure>
    </section>
    ${
      answers.length === 0
        ? nothing
        : html`
          <section aria-labelledby="break-even-heading">
            <h2 id="break-even-heading">Differences against break-even</h2>
            <sv-figure file="differences-against-break-even.svg"
              .draw=${(widthPx: number) => differencesAgainstBreakEven(report, name, { widthPx })}></sv-figure>
          </section>`
    }
    ${
      means.length === 0
        ? nothing
        : html`
          <section aria-labelledby="means-heading">
            <h2 id="means-heading">Treatment means</h2>
            <sv-figure file="treatment-means.svg"
              .draw=${(widthPx: number) => treatmentMeans(report, name, { widthPx })}></sv-figure>
          </section>`
    }
  `;
}

customElements.define('sv-answer-stage', AnswerStage);
