import { html, nothing, type TemplateResult } from 'lit';
import type { TrialDescription } from '../../trial/commands.ts';
import { CROPS, findCrop } from '../../trial/crops.ts';
import type { Treatment, TrialDocument } from '../../trial/trial-document.ts';
import { type Choice, choiceField, textField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { unitOf } from '../edge-units.ts';
import { rowsInTurns } from '../parts/late-rows.ts';
import { part } from '../parts/page-part.ts';
import { sprayingCautionsPanel } from '../parts/spraying-cautions.ts';
import { dispatch, notice, trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import { decidingSection } from './deciding-section.ts';
import './replicates-section.ts';

const TREATMENTS_A_TURN = 4;

/** What the trial is: its crop and units, its treatments and what they cost, and how the answer is decided. */
export class TrialStage extends TurnElement {
  protected override render(): TemplateResult | typeof nothing {
    // A refused change must put the old text back into its field.
    void notice.value;
    const current = trial.value;
    if (current === null) return nothing;
    return html`
      <h1>Trial</h1>
      ${part(() => descriptionSection(current))} ${part(() => treatmentsSection(current))}
      ${part(() => moneySection(current))} ${part(() => decidingSection(current))}
      ${part(() => html`<sv-replicates></sv-replicates>`)} ${part(() => notesSection(current))}
      ${part(sprayingCautionsPanel)}
    `;
  }
}

const UNIT_SYSTEMS: readonly Choice<TrialDocument['unitSystem']>[] = [
  { value: 'metric', label: 'Metric (t/ha, m)' },
  { value: 'us', label: 'United States (bu/ac, ft)' },
];

const DESIGNS: readonly Choice<TrialDocument['design']>[] = [
  { value: 'randomizedCompleteBlocks', label: 'In blocks, each with every treatment' },
  { value: 'completelyRandomized', label: 'Without blocks' },
];

const RANDOMISED: readonly Choice<'yes' | 'no' | 'notSaid'>[] = [
  { value: 'notSaid', label: 'Not said' },
  { value: 'yes', label: 'Yes, by chance' },
  { value: 'no', label: 'No, in a fixed order' },
];

function changeDescription(changes: Partial<TrialDescription>): boolean {
  return dispatch({ name: 'describeTrial', changes });
}

function descriptionSection(current: TrialDocument): TemplateResult {
  return html`
    <section aria-labelledby="what-heading">
      <h2 id="what-heading">What was tried</h2>
      <div class="field-grid">
        ${textField({ id: 'trial-name', isWide: true, label: 'Name of the trial', value: current.name, take: (name) => changeDescription({ name }) })}
        ${textField({ id: 'season', label: 'Season', value: current.season ?? '', take: (season) => changeDescription({ season: orNull(season) }) })}
        ${textField({
          id: 'crop',
          label: 'Crop',
          value: current.crop ?? '',
          suggestions: CROPS.map(({ id }) => id),
          hint: 'Sets the pounds in a bushel and the usual limits of moisture.',
          take: (crop) => changeDescription({ crop: orNull(crop) }),
        })}
        <sv-number
          class="field"
          label="Standard moisture"
          quantity="percent"
          blank="not set"
          .hint=${moistureHint(current)}
          .value=${current.standardMoisturePercent}
          .take=${(standardMoisturePercent: number | null) => changeDescription({ standardMoisturePercent })}
        ></sv-number>
        ${choiceField({ id: 'unit-system', label: 'Units', value: current.unitSystem, choices: UNIT_SYSTEMS, take: (unitSystem) => changeDescription({ unitSystem }) })}
        ${choiceField({ id: 'design', isWide: true, label: 'How the strips were set out', value: current.design, choices: DESIGNS, take: (design) => changeDescription({ design }) })}
        ${choiceField({
          id: 'randomised',
          label: 'Were treatments put on strips by chance?',
          value: current.randomised === null ? 'notSaid' : current.randomised ? 'yes' : 'no',
          choices: RANDOMISED,
          take: (said) => changeDescription({ randomised: said === 'notSaid' ? null : said === 'yes' }),
        })}
      </div>
    </section>
  `;
}

function moistureHint({ crop, standardMoisturePercent }: TrialDocument): string {
  const usual = findCrop(crop)?.standardMoisturePercent;
  if (usual === undefined) return 'Yields are brought to this moisture; not set, they stand as recorded.';
  const said = `In United States trade ${usual} % is standard for ${crop}; other countries differ.`;
  return standardMoisturePercent === null ? `Not set: yields stand as recorded. ${said}` : said;
}

function treatmentsSection(current: TrialDocument): TemplateResult {
  const money = unitOf('moneyPerLand', current).label;
  return html`
    <section aria-labelledby="treatments-heading">
      <h2 id="treatments-heading">Treatments</h2>
      ${
        current.treatments.length === 0
          ? html`<p>None yet. They come with the layout, or can be added here.</p>`
          : html`
            <div class="table-frame" tabindex="0" role="region" aria-labelledby="treatments-heading">
              <table class="entry-table">
                <thead>
                  <tr>
                    <th scope="col">Treatment</th>
                    <th scope="col">Check</th>
                    <th scope="col">Product, ${money}</th>
                    <th scope="col">Applying, ${money}</th>
                    <th scope="col"><span class="only-read">Remove</span></th>
                  </tr>
                </thead>
                <tbody>${rowsInTurns(current.treatments, TREATMENTS_A_TURN, (treatment) => treatmentRow(treatment, money))}</tbody>
              </table>
            </div>
            <p class="hint">
              The check is what the others are held against: untreated, or the farm’s usual practice. A cost left blank
              is not known, except that a check without costs costs nothing.
            </p>`
      }
      <p class="actions">
        <button type="button" @click=${() => addTreatment(current)}>Add a treatment</button>
        ${current.treatments.some(({ isCheck }) => isCheck) ? html`<button type="button" class="plain" @click=${() => dispatch({ name: 'chooseCheck', id: null })}>No check</button>` : nothing}
      </p>
    </section>
  `;
}

function treatmentRow(treatment: Treatment, money: string): TemplateResult {
  const { id, name } = treatment;
  const change = (changes: Partial<Omit<Treatment, 'id'>>) =>
    dispatch({ name: 'changeTreatment', id, changes });
  return html`
    <tr>
      <th scope="row">
        ${textField({ id: `treatment-${id}`, label: 'Name of the treatment', hiddenLabel: true, value: name, take: (text) => change({ name: text }) })}
      </th>
      <td class="centred" data-label="Check">
        <input
          type="radio"
          name="check"
          aria-label="${name} is the check"
          .checked=${treatment.isCheck}
          @change=${() => dispatch({ name: 'chooseCheck', id })}
        />
      </td>
      <td data-label="Product, ${money}">
        <sv-number label="Product cost of ${name}" hiddenLabel quantity="moneyPerLand" .blank=${treatment.isCheck ? 'none' : 'not known'}
          .value=${treatment.costPerHa} .take=${(costPerHa: number | null) => change({ costPerHa })}></sv-number>
      </td>
      <td data-label="Applying, ${money}">
        <sv-number label="Cost of applying ${name}" hiddenLabel quantity="moneyPerLand" .blank=${treatment.isCheck ? 'none' : 'not known'}
          .value=${treatment.applicationCostPerHa}
          .take=${(applicationCostPerHa: number | null) => change({ applicationCostPerHa })}></sv-number>
      </td>
      <td>
        <button type="button" class="plain" aria-label="Remove ${name}" @click=${() => dispatch({ name: 'removeTreatment', id })}>Remove</button>
      </td>
    </tr>
  `;
}

function addTreatment(current: TrialDocument): void {
  const taken = new Set(current.treatments.map(({ id }) => id));
  let number = current.treatments.length + 1;
  while (taken.has(`treatment-${number}`)) number += 1;
  const treatment: Treatment = {
    id: `treatment-${number}`,
    name: `Treatment ${number}`,
    isCheck: false,
    costPerHa: null,
    applicationCostPerHa: null,
  };
  dispatch({ name: 'addTreatment', treatment });
}

function moneySection(current: TrialDocument): TemplateResult {
  return html`
    <section aria-labelledby="money-heading">
      <h2 id="money-heading">Money</h2>
      <div class="field-grid">
        <sv-number class="field" label="Price of the grain" quantity="price" blank="not known"
          hint="At standard moisture. May move freely; the verdict on the difference never hangs on it."
          .value=${current.economics.pricePerKg}
          .take=${(pricePerKg: number | null) => dispatch({ name: 'changeEconomics', changes: { pricePerKg } })}></sv-number>
        ${textField({
          id: 'currency',
          label: 'Currency',
          value: current.economics.currency,
          suggestions: ['EUR', 'USD', 'GBP', 'CAD', 'AUD'],
          take: (currency) => dispatch({ name: 'changeEconomics', changes: { currency } }),
        })}
      </div>
    </section>
  `;
}

function notesSection(current: TrialDocument): TemplateResult {
  const take = (event: Event) => {
    if (event.target instanceof HTMLTextAreaElement) changeDescription({ notes: event.target.value });
  };
  return html`
    <section aria-labelledby="notes-heading">
      <h2 id="notes-heading">Notes</h2>
      <div class="field">
        <label for="notes" class="field-label">What happened in the field</label>
        <textarea id="notes" rows="4" .value=${current.notes} @change=${take}></textarea>
        <span class="hint">A skipped strip, a wrong product, hail, who harvested when.</span>
      </div>
    </section>
  `;
}

function orNull(text: string): string | null {
  return text.trim() === '' ? null : text.trim();
}

customElements.define('sv-trial-stage', TrialStage);
