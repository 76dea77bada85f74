import { html, type TemplateResult } from 'lit';
import type { ReportComparison, ReportResponse } from '../../findings/report-model.ts';
import { fixed, pValue, signed, signedBound, significant } from '../../words/number-formats.ts';
import { rowsInTurns } from '../parts/late-rows.ts';
import { head, numbers, table } from './figure-tables.ts';
import { procedureWords } from './procedure-words.ts';

const PAIRS_A_TURN = 6;

/** Every procedure's rows, pair by pair, with the row marked that decides. */
export function comparisonsTable(response: ReportResponse, decimals: number): TemplateResult {
  const { comparisons, unit } = response;
  return html`
    <p class="hint">The row marked ◆ decides. The others are shown for comparison; they change no verdict.</p>
    ${table(
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
        ${rowsInTurns(
          byPair(comparisons),
          PAIRS_A_TURN,
          ([pair, group]) => html`
            <tbody>
              ${group.map((row, index) => comparisonRow(row, index === 0 ? pair : null, group.length, decides(row, response), decimals))}
            </tbody>
          `,
        )}
      `,
    )}
  `;
}

function byPair(
  comparisons: readonly ReportComparison[],
): readonly (readonly [pair: string, rows: readonly ReportComparison[]])[] {
  const pairs = new Map<string, ReportComparison[]>();
  for (const row of comparisons) {
    const pair = `${row.a} against ${row.b}`;
    pairs.set(pair, [...(pairs.get(pair) ?? []), row]);
  }
  return [...pairs];
}

function comparisonRow(
  row: ReportComparison,
  pair: string | null,
  rowsOfPair: number,
  isDeciding: boolean,
  decimals: number,
): TemplateResult {
  return html`
    <tr class=${isDeciding ? 'decides' : ''}>
      ${pair === null ? '' : html`<th scope="rowgroup" rowspan=${rowsOfPair}>${pair}</th>`}
      <td>${isDeciding ? html`<span aria-hidden="true">◆ </span>` : ''}${procedureWords(row.procedure)}${isDeciding ? html`<span class="only-read">, decides</span>` : ''}</td>
      ${numbers([
        signed(row.difference, decimals),
        fixed(row.standardError, decimals),
        significant(row.df, 4),
        fixed(row.t, 2),
        pValue(row.p),
        pValue(row.pUnadjusted),
        signedBound(row.lower, decimals),
        signedBound(row.upper, decimals),
      ])}
    </tr>
  `;
}

/** A t of its own and the LSD in both forms are one and the same row. */
const SHOWN_AS: Readonly<Record<string, ReportComparison['procedure']>> = { t: 'lsd', protectedLsd: 'lsd' };

function decides(row: ReportComparison, { decidedBy, answers }: ReportResponse): boolean {
  if (decidedBy === null || !answers.some(({ a, b }) => a === row.a && b === row.b)) return false;
  return row.procedure === (SHOWN_AS[decidedBy.procedure] ?? decidedBy.procedure);
}
