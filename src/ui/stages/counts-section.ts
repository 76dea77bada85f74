import { html, nothing, type TemplateResult } from 'lit';
import type { ReportStrip } from '../../findings/report-model.ts';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { SetAsideByTreatment } from '../../pipeline/set-aside-by-treatment.ts';
import { percentOf, pPhrase } from '../../words/number-formats.ts';
import { setAsideWords } from '../../words/set-aside-words.ts';
import { REASONS } from '../field/set-aside-reasons.ts';
import { rowsInTurns } from '../parts/late-rows.ts';

const STRIPS_A_TURN = 24;

/** How many points each strip had, how many were kept, and why the others were not. */
export function countsSection(
  { report: { strips }, setAside }: Pick<AnalysisRun, 'report' | 'setAside'>,
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
      ${setAside === null ? nothing : byTreatment(setAside)}
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

/** Ends, sides and areas are left out alike in all; what the screens take may not be. */
function byTreatment({ treatments, p, isUneven }: SetAsideByTreatment): TemplateResult {
  const shares = treatments.map(({ treatment, share }) => `${treatment} ${percentOf(share)}`).join(', ');
  return html`
    <p class=${isUneven ? 'problem is-warning' : ''}>
      By the screens alone, apart from ends, sides and areas left out: ${shares}.
      ${
        isUneven
          ? html`These differ by treatment${p === null ? '' : ` (${pPhrase(p)} by the design of the trial)`}, which can bias
            the comparison. See by the colours of the field which screen it was, and whether the answer holds with it off.`
          : nothing
      }
    </p>
  `;
}

function total(strips: readonly ReportStrip[], count: (strip: ReportStrip) => number): number {
  return strips.reduce((sum, strip) => sum + count(strip), 0);
}
