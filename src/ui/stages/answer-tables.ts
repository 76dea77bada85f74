import { html, nothing, type TemplateResult } from 'lit';
import type { ReportModel, ReportResponse } from '../../findings/report-model.ts';
import {
  decimalsFor,
  fixed,
  money,
  percentOf,
  pValue,
  signed,
  significant,
  withUnit,
} from '../../words/number-formats.ts';

const PROCEDURE_NAMES: Readonly<Record<string, string>> = {
  lsd: 'LSD, unprotected',
  protectedLsd: 'LSD after a significant F',
  tukey: 'Tukey',
  dunnett: 'Dunnett',
  bonferroni: 'Bonferroni',
  holm: 'Holm',
  paired: 'paired t',
  contrast: 'contrast',
  t: 't test',
};

/** For those who want to check: every figure behind the answer, opening on demand. */
export function answerTables(report: ReportModel, response: ReportResponse): TemplateResult {
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  return html`
    <section aria-labelledby="behind-heading">
      <h2 id="behind-heading">The figures behind it</h2>
      ${decidedBy(response)} ${summaryFigures(response, decimals)}
      ${opening('Means', meansTable(response, decimals))}
      ${response.anova.length === 0 ? nothing : opening('Analysis of variance', anovaTable(response))}
      ${response.comparisons.length === 0 ? nothing : opening('Comparisons by every procedure', comparisonsTable(response, decimals))}
      ${response.economics.length === 0 ? nothing : opening('Money', moneyTable(response, decimals))}
      ${opening('Strips', stripsTable(report, response))}
      ${checks('Checks of what the analysis takes for granted', response.checks)}
      ${checks('Do other methods agree?', response.agreement)}
    </section>
  `;
}

function opening(summary: string, content: TemplateResult): TemplateResult {
  return html`<details><summary>${summary}</summary>${content}</details>`;
}

function table(label: string, content: TemplateResult): TemplateResult {
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-label=${label}>
      <table class="figures-table">${content}</table>
    </div>
  `;
}

function head(columns: readonly (string | { readonly number: string })[]): TemplateResult {
  return html`
    <thead>
      <tr>
        ${columns.map((column) =>
          typeof column === 'string'
            ? html`<th scope="col">${column}</th>`
            : html`<th scope="col" class="number">${column.number}</th>`,
        )}
      </tr>
    </thead>
  `;
}

function numbers(texts: readonly (string | number)[]): TemplateResult {
  return html`${texts.map((text) => html`<td class="number">${text}</td>`)}`;
}

function decidedBy({ decidedBy: decided, alpha }: ReportResponse): TemplateResult | typeof nothing {
  if (decided === null) return nothing;
  const chance =
    decided.chanceOfOneFalseReal === null
      ? ''
      : ` If all products were equal, at least one would still be called Real in ${percentOf(decided.chanceOfOneFalseReal)} of such trials.`;
  return html`
    <p>
      Decided by ${PROCEDURE_NAMES[decided.procedure] ?? decided.procedure} at the level ${alpha}. ${decided.why}${chance}
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
        ...procedures.map((procedure) => `Letters by ${PROCEDURE_NAMES[procedure] ?? procedure}`),
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

function comparisonsTable({ comparisons, unit }: ReportResponse, decimals: number): TemplateResult {
  return table(
    'Comparisons',
    html`
      ${head([
        'Comparison',
        'Procedure',
        { number: unit === null ? 'Difference' : `Difference, ${unit}` },
        { number: 'Standard error' },
        { number: 'df' },
        { number: 't' },
        { number: 'p' },
        { number: 'p, unadjusted' },
        { number: 'From' },
        { number: 'To' },
      ])}
      <tbody>
        ${comparisons.map(
          (row) => html`
            <tr>
              <th scope="row">${row.a} against ${row.b}</th>
              <td>${PROCEDURE_NAMES[row.procedure] ?? row.procedure}</td>
              ${numbers([
                signed(row.difference, decimals),
                fixed(row.standardError, decimals),
                significant(row.df, 4),
                fixed(row.t, 2),
                pValue(row.p),
                pValue(row.pUnadjusted),
                signed(row.lower, decimals),
                signed(row.upper, decimals),
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
        ${economics.map(
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
        ${ordered.map(
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

function checks(summary: string, list: ReportResponse['checks']): TemplateResult | typeof nothing {
  if (list.length === 0) return nothing;
  return opening(
    summary,
    html`
      <ul class="checks">
        ${list.map(
          (check) => html`
            <li>
              <strong>${check.what}</strong>${check.p === null ? nothing : html`, p ${pValue(check.p).replace(/^(?=\d)/, '= ')}`}.
              ${check.meaning} <span class="what-to-do">${check.whatToDo}</span>
            </li>
          `,
        )}
      </ul>
    `,
  );
}
