import { html, nothing, type TemplateResult } from 'lit';
import type { ReportModel, ReportResponse } from '../../findings/report-model.ts';
import {
  decimalsFor,
  fixed,
  money,
  percentOf,
  pValue,
  significant,
  withUnit,
} from '../../words/number-formats.ts';
import { rowsInTurns } from '../parts/late-rows.ts';
import { part } from '../parts/page-part.ts';
import { comparisonsTable } from './comparison-table.ts';
import { head, numbers, opening, table } from './figure-tables.ts';
import { allResponses, outlookSection } from './outlook-section.ts';
import { procedureWords } from './procedure-words.ts';
import { agreementOpening, checksOpening } from './tests-beside.ts';

const STRIPS_A_TURN = 24;
const COMPARISONS_A_TURN = 24;

/** For those who want to check: every figure behind the answer, opening on demand. */
export function answerTables(report: ReportModel, response: ReportResponse): TemplateResult {
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  return html`
    <section aria-labelledby="behind-heading">
      <h2 id="behind-heading">The figures behind it</h2>
      ${decidedBy(response)} ${summaryFigures(response, decimals)}
      ${part(() => opening('Means', meansTable(response, decimals)))}
      ${response.anova.length === 0 ? nothing : part(() => opening('Analysis of variance', anovaTable(response)))}
      ${response.comparisons.length === 0 ? nothing : part(() => opening('Comparisons by every procedure', comparisonsTable(response, decimals)))}
      ${response.economics.length === 0 ? nothing : part(() => opening('Money', moneyTable(response, decimals)))}
      ${part(() => opening('Strips', stripsTable(report, response)))} ${part(() => checksOpening(response))}
      ${part(() => agreementOpening(response))} ${outlookSection(response, decimals)} ${part(() => allResponses(report))}
    </section>
  `;
}

function decidedBy({ decidedBy: decided, alpha }: ReportResponse): TemplateResult | typeof nothing {
  if (decided === null) return nothing;
  const chance =
    decided.chanceOfOneFalseReal === null
      ? ''
      : ` If all products were equal, at least one would still be called Real in ${percentOf(decided.chanceOfOneFalseReal)} of such trials.`;
  return html`
    <p>
      Decided by ${procedureWords(decided.procedure)} at the level ${alpha}. ${decided.why}${chance}
    </p>
  `;
}

function summaryFigures(response: ReportResponse, decimals: number): TemplateResult {
  const { detectable, lsd, unit } = response;
  const figures: readonly (readonly [string, string])[] = [
    ['Overall mean', withUnit(fixed(response.grandMean, decimals), unit)],
    ['CV of strips', withUnit(fixed(response.cvPercent, 1), '%')],
    ['Standard error of a mean', fixed(response.standardErrorOfMean, decimals)],
    ['Standard error of a difference', fixed(response.standardErrorOfDifference, decimals)],
    [
      `LSD at ${lsd.alpha}${lsd.df === null ? '' : `, ${lsd.df} df`}`,
      withUnit(fixed(lsd.value, decimals), unit),
    ],
    [
      `Detectable difference${detectable === null ? '' : `, power ${detectable.power}`}`,
      detectable === null
        ? fixed(null, 0)
        : `${withUnit(fixed(detectable.difference, decimals), unit)} (${fixed(detectable.lower, decimals)} to ${fixed(detectable.upper, decimals)})`,
    ],
  ];
  return html`
    <dl class="summary-figures">
      ${figures.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}
    </dl>
  `;
}

function meansTable({ means, unit }: ReportResponse, decimals: number): TemplateResult {
  const procedures = [...new Set(means.flatMap(({ letters }) => Object.keys(letters)))];
  return table(
    'Means',
    html`
      ${head([
        'Treatment',
        { number: 'Strips' },
        { number: unit === null ? 'Mean' : `Mean, ${unit}` },
        { number: 'Adjusted' },
        { number: 'Standard error' },
        { number: 'From' },
        { number: 'To' },
        ...procedures.map((procedure) => `Letters by ${procedureWords(procedure)}`),
      ])}
      <tbody>
        ${means.map(
          (mean) => html`
            <tr>
              <th scope="row">${mean.treatment}</th>
              ${numbers([
                mean.n,
                fixed(mean.mean, decimals),
                fixed(mean.adjustedMean, decimals),
                fixed(mean.standardError, decimals),
                fixed(mean.lower, decimals),
                fixed(mean.upper, decimals),
              ])}
              ${procedures.map((procedure) => html`<td>${mean.letters[procedure] ?? ''}</td>`)}
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}

function anovaTable({ anova }: ReportResponse): TemplateResult {
  return table(
    'Analysis of variance',
    html`
      ${head(['Source', { number: 'df' }, { number: 'Sum of squares' }, { number: 'Mean square' }, { number: 'F' }, { number: 'p' }])}
      <tbody>
        ${anova.map(
          (row) => html`
            <tr>
              <th scope="row">${row.label}</th>
              ${numbers([
                row.df,
                significant(row.ss, 6),
                significant(row.ms, 6),
                row.f === null ? '' : fixed(row.f, 2),
                row.p === null ? '' : pValue(row.p),
              ])}
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}

function moneyTable({ economics }: ReportResponse, decimals: number): TemplateResult {
  return table(
    'Money',
    html`
      ${head([
        'Comparison',
        { number: 'Extra cost' },
        { number: 'Break-even difference' },
        { number: 'Net return' },
        { number: 'From' },
        { number: 'To' },
        'Not known',
      ])}
      <tbody>
        ${rowsInTurns(
          economics,
          COMPARISONS_A_TURN,
          (row) => html`
            <tr>
              <th scope="row">${row.a} against ${row.b}</th>
              ${numbers([
                money(row.extraCost, row.moneyUnit),
                fixed(row.breakEven, decimals),
                money(row.netReturn, row.moneyUnit),
                money(row.netReturnLower, row.moneyUnit),
                money(row.netReturnUpper, row.moneyUnit),
              ])}
              <td>${row.missing.join(', ')}</td>
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}

function stripsTable(report: ReportModel, response: ReportResponse): TemplateResult {
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  const ordered = [...report.strips].sort((a, b) => (a.place ?? Infinity) - (b.place ?? Infinity));
  return table(
    'Strips',
    html`
      ${head([
        'Strip',
        'Block',
        'Treatment',
        { number: response.unit === null ? response.name : `${response.name}, ${response.unit}` },
        { number: 'Points kept' },
        { number: 'CV within, %' },
        'Used',
      ])}
      <tbody>
        ${rowsInTurns(
          ordered,
          STRIPS_A_TURN,
          (strip) => html`
            <tr>
              <th scope="row">${strip.strip}</th>
              <td>${strip.block ?? ''}</td>
              <td>${strip.treatment}</td>
              ${numbers([
                fixed(
                  strip.values.find(({ response: name }) => name === response.name)?.value ?? null,
                  decimals,
                ),
                strip.pointsKept === null ? '' : `${strip.pointsKept} of ${strip.pointsRead ?? '?'}`,
                fixed(strip.cvWithinPercent, 1),
              ])}
              <td>${strip.used ? 'yes' : `no: ${strip.whyNotUsed ?? ''}`}</td>
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}
