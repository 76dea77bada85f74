import { html, type TemplateResult } from 'lit';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import { rateUnit } from '../../trial/display-units.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { fixed, NO_NUMBER, percentOf, signed } from '../../words/number-formats.ts';
import { unitOf } from '../edge-units.ts';
import { head, numbers, opening, table } from './figure-tables.ts';

type Row = NonNullable<AnalysisRun['applied']>['strips'][number];

/** Strip by strip: what lies under its own product, at which rate, and what else lies there. */
export function appliedTable(rows: readonly Row[], current: TrialDocument): TemplateResult {
  const length = unitOf('length', current);
  const skipped = rows.filter(({ skippedM }) => skippedM > 0).length;
  const summary = `Strip by strip${skipped === 0 ? '' : ` (${skipped} with stretches not used)`}`;
  return opening(
    summary,
    html`
      <p class="hint">
        Shares are of the strip without its margins. A metre of the strip is used where at least nine tenths of its width
        got what was planned and no more than a tenth anything else; not used are stretches of 5 m and more that fail it.
      </p>
      ${table(
        'As applied, strip by strip',
        html`
          ${head([
            'Strip',
            'Treatment',
            { number: 'Covered' },
            { number: 'Twice' },
            { number: 'Rate' },
            { number: 'Against plan' },
            { number: `Not used (${length.label})` },
            { number: 'Other product' },
            'Which',
          ])}
          <tbody>
            ${rows.map(
              (row) => html`
                <tr>
                  <th scope="row">${row.id}</th>
                  <td>${treatmentOf(row, current)}</td>
                  ${numbers([
                    row.coveredShare === null ? 'not asked' : percentOf(row.coveredShare),
                    row.twiceShare === null ? NO_NUMBER : percentOf(tidy(row.twiceShare)),
                    rateText(row, current),
                    row.rateOffPlan === null ? NO_NUMBER : `${signed(100 * row.rateOffPlan, 1)} %`,
                    row.skippedM > 0 ? fixed(row.skippedM * length.perSi, 0) : 'none',
                    percentOf(tidy(row.otherShare)),
                  ])}
                  <td>${row.others
                    .filter(({ share }) => tidy(share) > 0)
                    .map(({ productName }) => productName || 'no name')
                    .join(', ')}</td>
                </tr>
              `,
            )}
          </tbody>
        `,
      )}
    `,
  );
}

/** Less than a thousandth is the last digit of a position. */
function tidy(share: number): number {
  return share < 0.001 ? 0 : share;
}

function treatmentOf({ index }: Row, { strips, treatments }: TrialDocument): string {
  const id = strips[index]?.treatment;
  return treatments.find((own) => own.id === id)?.name ?? '';
}

const MOST_IN_SMALL_UNITS = 5;

function rateText({ rate, index }: Row, current: TrialDocument): string {
  if (rate === null) return NO_NUMBER;
  const treatment = current.treatments.find(({ id }) => id === current.strips[index]?.treatment);
  const plain = rateUnit(rate.unit, current.unitSystem);
  // Spray liquid is not counted by the ounce, whatever the plan is.
  const areSeeds = rate.unit === 'seeds/ha';
  const fits = areSeeds || rate.mean * plain.perSi < MOST_IN_SMALL_UNITS;
  const isSmall = treatment?.planned?.inSmallUnits === true && fits;
  const unit = isSmall ? rateUnit(rate.unit, current.unitSystem, true) : plain;
  const spread =
    rate.cvPercent === null || rate.cvPercent < 0.05 ? '' : ` (CV ${fixed(rate.cvPercent, 1)} %)`;
  return `${fixed(rate.mean * unit.perSi, areSeeds && !isSmall ? 0 : 1)} ${unit.label}${spread}`;
}
