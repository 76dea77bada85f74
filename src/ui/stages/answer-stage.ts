import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { differencesAgainstBreakEven } from '../../figures/differences-against-break-even.ts';
import { stripsInFieldOrder } from '../../figures/strips-in-field-order.ts';
import { treatmentMeans } from '../../figures/treatment-means.ts';
import type { ReportModel, ReportResponse } from '../../findings/report-model.ts';
import { saidProblem } from '../notice-panel.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/figure-frame.ts';
import { part } from '../parts/page-part.ts';
import '../parts/progress-panel.ts';
import { lastRun } from '../state/analysis.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import { answerTables } from './answer-tables.ts';
import { aboutAnswers, answersSection } from './answers-section.ts';
import { reportDownloads } from './report-downloads.ts';
import { whatItRestsOn } from './what-it-rests-on.ts';

/** The answer first, as a sentence and a picture; tables and checks beneath, opening on demand. */
export class AnswerStage extends TurnElement {
  static override readonly properties: PropertyDeclarations = { chosenResponse: { state: true } };

  declare chosenResponse: string | null;

  constructor() {
    super();
    this.chosenResponse = null;
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const run = lastRun.value;
    const response = run === null ? null : this.#response(run.report);
    return html`
      <h1>Answer</h1>
      <sv-progress></sv-progress>
      ${
        run === null || response === null
          ? nothingToAnswer(run?.report ?? null)
          : html`
            ${this.#choice(run.report, response)} ${answered(run.report, response)} ${part(() => whatItRestsOn(run.report))}
            ${part(() => reportDownloads(run))}`
      }
    `;
  }

  #response(report: ReportModel): ReportResponse | null {
    return report.responses.find(({ name }) => name === this.chosenResponse) ?? report.responses[0] ?? null;
  }

  #choice(report: ReportModel, response: ReportResponse): TemplateResult | typeof nothing {
    if (report.responses.length < 2) return nothing;
    return html`<div class="response-choice">${choiceField({
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
    })}</div>`;
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
      ${fieldOrderFigure(report, response)}
    `;
  }
  return html`
    ${answersSection(response)}
    <div class="pictures">
      ${fieldOrderFigure(report, response)}
      ${figureSection('Differences against break-even', 'differences-against-break-even.svg', (widthPx) =>
        differencesAgainstBreakEven(report, response.name, { widthPx }),
      )}
    </div>
    ${part(() => aboutAnswers(response, report))}
    ${figureSection('Treatment means', 'treatment-means.svg', (widthPx) =>
      treatmentMeans(report, response.name, { widthPx }),
    )}
    ${answerTables(report, response)}
  `;
}

function fieldOrderFigure(report: ReportModel, { name }: ReportResponse): TemplateResult {
  return figureSection('Strips in field order', 'strips-in-field-order.svg', (widthPx) =>
    stripsInFieldOrder(report, name, { widthPx }),
  );
}

/** The picture carries its own title, so the heading is there for those who go by headings. */
function figureSection(heading: string, file: string, draw: (widthPx: number) => string): TemplateResult {
  return html`
    <section>
      <h2 class="only-read">${heading}</h2>
      <sv-figure file=${file} .draw=${draw}></sv-figure>
    </section>
  `;
}

customElements.define('sv-answer-stage', AnswerStage);
