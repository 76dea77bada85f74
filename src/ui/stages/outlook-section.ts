import { html, nothing, type TemplateResult } from 'lit';
import { designSections, type FurtherSection } from '../../export/further-sections.ts';
import { shown } from '../../export/further-text.ts';
import type { ReportModel, ReportResponse } from '../../findings/report-model.ts';
import { chanceText, fixed, percentOf, signed, signedBound, withUnit } from '../../words/number-formats.ts';
import { MONEY_NOT_KNOWN, NUMBERS_ONLY } from '../../words/verdict-glossary.ts';
import { part } from '../parts/page-part.ts';
import { head, numbers, opening, table } from './figure-tables.ts';

/** More rows than these are told by those alone that change. */
const MOST_ROWS = 60;

/** What the trial says beyond its verdicts; each opens on demand, none decides. */
export function outlookSection(response: ReportResponse, decimals: number): TemplateResult {
  return html`
    ${part(() => withoutOneBlock(response, decimals))} ${part(() => chances(response, decimals))}
    ${part(() => flattery(response))} ${part(() => couldHaveFound(response, decimals))}
    ${designSections(response).map((section) => part(() => further(section, decimals)))}
  `;
}

function further({ title, meaning, columns, rows }: FurtherSection, decimals: number): TemplateResult {
  const headings = columns.map(({ heading, kind }) => (kind === 'text' ? heading : { number: heading }));
  const cell = (value: string | number | null, index: number) => {
    const kind = columns[index]?.kind ?? 'text';
    const words = shown(value, kind, decimals);
    return kind === 'text' ? html`<td>${words}</td>` : html`<td class="number">${words}</td>`;
  };
  const body = rows.map(
    ([first, ...rest]) => html`
      <tr>
        <th scope="row">${first}</th>
        ${rest.map((value, index) => cell(value, index + 1))}
      </tr>
    `,
  );
  return opening(
    title,
    html`
      ${meaning === null ? nothing : html`<p class="hint">${meaning}</p>`}
      ${rows.length === 0 ? nothing : table(title, html`${head(headings)}<tbody>${body}</tbody>`)}
    `,
  );
}

function withoutOneBlock(response: ReportResponse, decimals: number): TemplateResult | typeof nothing {
  const { leaveOneBlockOut: table_, answers } = response;
  if (table_.length === 0) return nothing;
  const changing = table_.filter(({ changes }) => changes).length;
  const summary =
    changing === 0
      ? 'Without one block: every verdict holds'
      : `Without one block: a verdict changes for ${changing} of ${table_.length} blocks`;
  const rows = table_.flatMap((left) =>
    left.comparisons.map((one) => {
      const whole = answers.find(({ a, b }) => a === one.a && b === one.b);
      const isChanged =
        whole !== undefined && (whole.difference !== one.difference || whole.money !== one.money);
      return { block: left.block, one, isChanged };
    }),
  );
  const shown = rows.length > MOST_ROWS ? rows.filter(({ isChanged }) => isChanged) : rows;
  return opening(
    summary,
    html`
      <p class="hint">
        The trial once more with each block left out in turn. A verdict that hangs on one block deserves a look at what
        happened there.${shown.length < rows.length ? ` Of ${rows.length} rows those that change are shown.` : ''}
      </p>
      ${table_.flatMap(({ block, refusal }) => (refusal === null || refusal === '' ? [] : [html`<p>Without block ${block}: ${refusal}</p>`]))}
      ${table(
        'Without one block',
        html`
          ${head(['Without block', 'Comparison', { number: 'Difference' }, { number: 'From' }, { number: 'To' }, 'Difference verdict', 'Money', 'Against the whole trial'])}
          <tbody>
            ${shown.map(
              ({ block, one, isChanged }) => html`
                <tr class=${isChanged ? 'changed' : ''}>
                  <th scope="row">${block}</th>
                  <td>${one.a} against ${one.b}</td>
                  ${numbers([signed(one.estimate, decimals), signedBound(one.lower, decimals), signedBound(one.upper, decimals)])}
                  <td>${one.difference ?? NUMBERS_ONLY}</td>
                  <td>${one.money ?? MONEY_NOT_KNOWN}</td>
                  <td>${isChanged ? 'changes' : 'the same'}</td>
                </tr>
              `,
            )}
          </tbody>
        `,
      )}
    `,
  );
}

function chances(
  { chances: found, unit }: ReportResponse,
  decimals: number,
): TemplateResult | typeof nothing {
  if (found === null) return nothing;
  const best = found.best.toSorted((a, b) => b.chance - a.chance);
  return opening(
    'How likely is each treatment the best, and does it beat its cost?',
    html`
      <p class="hint">${found.meaning}</p>
      <div class="side-by-side">
        ${table(
          'Chances of being the best',
          html`
            ${head(['Treatment', { number: 'Is the best' }])}
            <tbody>
              ${best.map(({ treatment, chance }) => html`<tr><th scope="row">${treatment}</th>${numbers([chanceText(chance)])}</tr>`)}
            </tbody>
          `,
        )}
        ${table(
          'Chances of the comparisons',
          html`
            ${head(['Comparison', { number: 'Is better' }, { number: unit === null ? 'Break-even' : `Break-even, ${unit}` }, { number: 'Beats break-even' }])}
            <tbody>
              ${found.comparisons.map(
                (one) => html`
                  <tr>
                    <th scope="row">${one.a} against ${one.b}</th>
                    ${numbers([
                      chanceText(one.better),
                      fixed(one.breakEven, decimals),
                      one.beatsBreakEven === null ? 'not known' : chanceText(one.beatsBreakEven),
                    ])}
                  </tr>
                `,
              )}
            </tbody>
          `,
        )}
      </div>
    `,
  );
}

function flattery({ flattery: found }: ReportResponse): TemplateResult | typeof nothing {
  if (found === null) return nothing;
  return opening('How far is the best of several flattered?', html`<p>${found.meaning}</p>`);
}

function couldHaveFound(response: ReportResponse, decimals: number): TemplateResult | typeof nothing {
  const { detectable, replicatesForMargin, unit } = response;
  if (detectable === null && replicatesForMargin === null) return nothing;
  return opening(
    'What could this trial have found?',
    html`
      ${
        detectable === null
          ? nothing
          : html`<p>
            A true difference of ${withUnit(fixed(detectable.difference, decimals), unit)} would be found in
            ${percentOf(detectable.power)} of such trials, each pair judged alone. The error is itself known only roughly, so this may be anything from
            ${fixed(detectable.lower, decimals)} to ${withUnit(fixed(detectable.upper, decimals), unit)}.
          </p>`
      }
      ${replicatesForMargin === null ? nothing : html`<p>${replicatesForMargin.meaning}</p>`}
    `,
  );
}

/** One line a response, where there are several. */
export function allResponses({ responses }: ReportModel): TemplateResult | typeof nothing {
  if (responses.length < 2) return nothing;
  return opening(
    'All responses in one table',
    table(
      'All responses',
      html`
        ${head(['Response', { number: 'Mean' }, { number: 'CV, %' }, { number: 'Comparisons' }, { number: 'Real' }, 'Largest difference'])}
        <tbody>${responses.map(responseRow)}</tbody>
      `,
    ),
  );
}

function responseRow(response: ReportResponse): TemplateResult {
  const { name, unit, answers, refusal } = response;
  const label = unit === null ? name : `${name}, ${unit}`;
  if (refusal !== null) {
    return html`<tr><th scope="row">${label}</th><td colspan="5">not analysed: ${refusal.message}</td></tr>`;
  }
  const real = answers.filter(({ difference }) => difference?.startsWith('Real')).length;
  const largest = answers.toSorted((a, b) => Math.abs(b.estimate) - Math.abs(a.estimate))[0];
  return html`
    <tr>
      <th scope="row">${label}</th>
      ${numbers([fixed(response.grandMean, 2), fixed(response.cvPercent, 1), answers.length, real])}
      <td>${largest === undefined ? '' : `${signed(largest.estimate, 2)}: ${largest.a} against ${largest.b}`}</td>
    </tr>
  `;
}
