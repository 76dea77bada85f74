import { html, type TemplateResult } from 'lit';
import type { PlannedApplication, Treatment, TrialDocument } from '../../trial/trial-document.ts';
import { choiceField, textField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { unitOf } from '../edge-units.ts';
import { dispatch } from '../state/session.ts';

/** What each treatment was to get: the product as logs name it, and its rate. */
export function plannedSection(current: TrialDocument): TemplateResult {
  return html`
    <details>
      <summary>What each treatment was to get</summary>
      <p class="hint">
        Products by the name that the log gives them; blank: the treatment’s own name. Where nothing is said the check was
        to get nothing and every other treatment its product. A rate of 0 says that nothing was to be put out. Join the
        products of a tank mix by “+”. Count rates as the log does: of the product or of the spray liquid, by volume, by
        mass or in seeds; one is not turned into the other.
      </p>
      <div class="field-grid">
        <sv-number class="field" label="Rates may be off the plan by" quantity="percent" blank="10"
          hint="A strip’s mean rate farther off is said."
          .value=${current.harvest.rateTolerancePercent ?? null}
          .take=${(rateTolerancePercent: number | null) => dispatch({ name: 'changeHarvestSettings', changes: { rateTolerancePercent } })}></sv-number>
      </div>
      <div class="table-frame" tabindex="0" role="region" aria-label="What each treatment was to get">
        <table class="entry-table">
          <thead>
            <tr>
              <th scope="col">Treatment</th>
              <th scope="col">Product</th>
              <th scope="col">Planned rate</th>
              <th scope="col">Counted by</th>
            </tr>
          </thead>
          <tbody>${current.treatments.map((treatment) => plannedRow(treatment, current))}</tbody>
        </table>
      </div>
    </details>
  `;
}

const COUNTED = [
  { quantity: 'volumePerLand', unit: 'L/ha', isSmall: false },
  { quantity: 'smallVolumePerLand', unit: 'L/ha', isSmall: true },
  { quantity: 'massPerLand', unit: 'kg/ha', isSmall: false },
  { quantity: 'smallMassPerLand', unit: 'kg/ha', isSmall: true },
  { quantity: 'seedsPerLand', unit: 'seeds/ha', isSmall: false },
  { quantity: 'smallSeedsPerLand', unit: 'seeds/ha', isSmall: true },
] as const;

const COUNTED_BY: Readonly<Record<PlannedApplication['unit'], string>> = {
  'L/ha': 'volume',
  'kg/ha': 'mass',
  'seeds/ha': 'number',
};

function countedBy(unit: PlannedApplication['unit'], isSmall: boolean): (typeof COUNTED)[number]['quantity'] {
  return COUNTED.find((own) => own.unit === unit && own.isSmall === isSmall)?.quantity ?? 'volumePerLand';
}

const NOT_SAID: PlannedApplication = { product: null, rate: null, unit: 'L/ha' };

function plannedRow(treatment: Treatment, current: TrialDocument): TemplateResult {
  const { id, name, isCheck } = treatment;
  const planned = treatment.planned ?? NOT_SAID;
  const change = (changes: Partial<PlannedApplication>): boolean => {
    const next = { ...planned, ...changes };
    const isBlank =
      next.product === null && next.rate === null && next.unit === NOT_SAID.unit && !next.inSmallUnits;
    return dispatch({ name: 'changeTreatment', id, changes: { planned: isBlank ? null : next } });
  };
  const isSmall = planned.inSmallUnits === true;
  const counted = countedBy(planned.unit, isSmall);
  return html`
    <tr>
      <th scope="row">${name}</th>
      <td data-label="Product">
        ${textField({
          id: `planned-product-${id}`,
          label: `Product of ${name}`,
          hiddenLabel: true,
          value: planned.product ?? '',
          take: (text) => change({ product: text.trim() === '' ? null : text.trim() }),
        })}
      </td>
      <td data-label="Planned rate">
        <sv-number label="Planned rate of ${name}" hiddenLabel .quantity=${counted}
          .blank=${isCheck && !treatment.planned ? 'nothing' : 'not known'} .value=${planned.rate}
          .take=${(rate: number | null) => change({ rate })}></sv-number>
      </td>
      <td data-label="Counted by">
        ${choiceField({
          id: `planned-unit-${id}`,
          label: `How the rate of ${name} is counted`,
          hiddenLabel: true,
          value: counted,
          choices: COUNTED.map(({ quantity, unit }) => ({
            value: quantity,
            label: `${COUNTED_BY[unit]}, ${unitOf(quantity, current).label}`,
          })),
          take: (quantity) => {
            const chosen = COUNTED.find((own) => own.quantity === quantity);
            return chosen !== undefined && change({ unit: chosen.unit, inSmallUnits: chosen.isSmall });
          },
        })}
      </td>
    </tr>
  `;
}
