import { html, nothing, type TemplateResult } from 'lit';
import type { ReportCheck, ReportResponse } from '../../findings/report-model.ts';
import { opening } from './figure-tables.ts';

/** Checks of what the analysis takes for granted: what was found, what it means, what to do. */
export function checksOpening({ checks }: ReportResponse): TemplateResult | typeof nothing {
  if (checks.length === 0) return nothing;
  const summary = `Checks of what the analysis takes for granted${summedUp(checks, ': ', 'in doubt', 'nothing stands out')}`;
  return opening(summary, html`<ul class="checks">${checks.map((check) => testItem(check))}</ul>`);
}

/** Ranks and the randomisation itself, beside the analysis that decides; none of them changes a verdict. */
export function agreementOpening({ agreement }: ReportResponse): TemplateResult | typeof nothing {
  if (agreement.length === 0) return nothing;
  const summary = `Do other methods agree?${summedUp(agreement, ' ', 'say otherwise', 'They do')}`;
  return opening(summary, html`<ul class="checks">${agreement.map((test) => testItem(test))}</ul>`);
}

function summedUp(
  tests: readonly Pick<ReportCheck, 'inDoubt'>[],
  join: string,
  doubtful: string,
  fine: string,
): string {
  const doubts = tests.filter(({ inDoubt }) => inDoubt === true).length;
  if (doubts > 0) return `${join}${doubts} ${doubtful}`;
  return tests.some(({ inDoubt }) => inDoubt === false) ? `${join}${fine}` : '';
}

/** Statistic and p stand in the meaning, and so does the smallest p that the design can give. */
function testItem(test: ReportCheck): TemplateResult {
  return html`
    <li class=${test.inDoubt === true ? 'is-doubtful' : ''}>
      ${test.inDoubt === true ? html`<span aria-hidden="true">! </span>` : nothing}<strong>${test.what}</strong>.
      ${test.meaning} <span class="what-to-do">${test.whatToDo}</span>
    </li>
  `;
}
