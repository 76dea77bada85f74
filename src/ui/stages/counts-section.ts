import { html, nothing, type TemplateResult } from 'lit';
import type { ReportStrip } from '../../findings/report-model.ts';
import { percentOf } from '../../words/number-formats.ts';
import { setAsideWords } from '../../words/set-aside-words.ts';
import { REASONS } from '../field/set-aside-reasons.ts';
import { rowsInTurns } from '../parts/late-rows.ts';

const STRIPS_A_TURN = 24;

/** How many points each strip had, how many were kept, and why the others were not. */
export function countsSection(
  strips: readonly ReportStrip[],
  chart: TemplateResult | typeof nothing,
): TemplateResult | typeof nothing {
  const counted = strips.filter(({ pointsRead }) => pointsRead !== null);
  if (counted.length === 0) return nothing;
  const reasons = REASONS.filter((reason) =>
    counted.some((strip) => (strip.pointsSetAside[reason] ?? 0) > 0),
  );
  const read = total(counted, ({ pointsRead }) => pointsRead ?? 0);
  const kept = total(counted, ({ pointsKept }) => pointsKept ?? 0);
  return html`
    <section aria-labelledby="counts-heading">
      <h2 id="counts-heading">Kept and set aside</h2>
      <p>
        On the strips ${read} points were read and ${kept} kept; ${read - kept} (${percentOf(read === 0 ? null : (read - kept) / read)})
        were set aside. Published protocols set aside 13 to 30 of 100.
      </p>
      <details>
        <summary>By strip and reason</summary>
        <div class="table-frame" tabindex="0" role="region" aria-labelledby="counts-heading">
          <table class="figures-table">
            <thead>
              <tr>
                <th scope="col">Strip</th>
                <th scope="col">Treatment</th>
                <th scope="col" class="number">Read</th>
                <th scope="col" class="number">Kept</th>
                ${reasons.map((reason) => html`<th scope="col" class="number wrap">${setAsideWords(reason)}</th>`)}
              </tr>
            </thead>
            <tbody>
              ${rowsInTurns(
                counted,
                STRIPS_A_TURN,
                (strip) => html`
                  <tr>
                    <th scope="row">${strip.strip}</th>
                    <td>${strip.treatment}</td>
                    <td class="number">${strip.pointsRead}</td>
                    <td class="number">${strip.pointsKept}</td>
                    ${reasons.map((reason) => html`<td class="number">${strip.pointsSetAside[reason] ?? 0}</td>`)}
                  </tr>
                `,
              )}
            </tbody>
            <tfoot>
              <tr>
                <th scope="row">All</th>
                <td></td>
                <td class="number">${read}</td>
                <td class="number">${kept}</td>
                ${reasons.map((reason) => html`<td class="number">${total(counted, (strip) => strip.pointsSetAside[reason] ?? 0)}</td>`)}
              </tr>
            </tfoot>
          </table>
        </div>
      </details>
      ${chart}
    </section>
  `;
}

function total(strips: readonly ReportStrip[], count: (strip: ReportStrip) => number): number {
  return strips.reduce((sum, strip) => sum + count(strip), 0);
}
