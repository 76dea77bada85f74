import { html, nothing, type TemplateResult } from 'lit';
import type { Recognition } from '../../intake/recognition.ts';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { ApplicationFile, LoggedProduct, TrialDocument } from '../../trial/trial-document.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { dispatch } from '../state/session.ts';
import { LOG_ROLES, LOGGED_AREA_ROLES } from './column-units.ts';
import { type ChosenColumns, columnQuestions, columnsTable } from './columns-table.ts';

type NamedProduct = NonNullable<AnalysisRun['applied']>['products'][number];

/** One log: what its columns were understood as, how wide its swath was, and what its products mean. */
export function logFileSection(
  file: ApplicationFile,
  recognition: Recognition | null,
  products: readonly NamedProduct[],
  current: TrialDocument,
  isHeld: boolean,
): TemplateResult {
  const number = current.applicationFiles?.indexOf(file) ?? 0;
  const heading = `log-${number}`;
  const isPoints = recognition?.columns.some(({ role }) => role === 'longitude') ?? false;
  const hasWidth = recognition?.columns.some(({ role }) => role === 'width') ?? false;
  const columns = chosenColumns(file, isPoints || recognition === null);
  const isOpen = recognition !== null && recognition.questions.length > 0;
  return html`
    <section aria-labelledby=${heading} class="harvest-file">
      <h3 id=${heading}>${file.path}</h3>
      ${recognition === null ? html`<p class="hint">${isHeld ? 'Not read yet.' : 'This browser does not hold the file. Drop it on this page and it is read.'}</p>` : columnQuestions(columns, recognition)}
      ${isPoints && (!hasWidth || file.swathM !== null) ? swathField(file, hasWidth) : nothing}
      ${isPoints ? boomField(file) : nothing}
      ${products.length === 0 ? nothing : productsTable(file, products, current)}
      ${
        recognition === null
          ? nothing
          : html`
            <details ?open=${isOpen}>
              <summary>What each column was understood as</summary>
              ${columnsTable(columns, recognition, heading, current)}
              ${recognition.unusedHeadings.length === 0 ? nothing : html`<p class="hint">Not used: ${recognition.unusedHeadings.join(', ')}.</p>`}
            </details>`
      }
      <p class="actions">
        <button type="button" class="plain" @click=${() => dispatch({ name: 'removeApplicationFile', path: file.path })}>
          Take this log out<span class="only-read">: ${file.path}</span>
        </button>
      </p>
    </section>
  `;
}

function chosenColumns({ path, columns }: ApplicationFile, isPoints: boolean): ChosenColumns {
  return {
    path,
    columns,
    roles: isPoints ? LOG_ROLES : LOGGED_AREA_ROLES,
    take: (chosen) => change(path, { columns: chosen }),
  };
}

function swathField(file: ApplicationFile, hasWidth: boolean): TemplateResult {
  return html`
    <div class="asked" role="group" aria-label="The swath of ${file.path}">
      <div class="field-grid"><sv-number class="field" label="Width of the swath" quantity="length" blank=${hasWidth ? 'as logged' : 'please say'}
        hint=${hasWidth ? 'Where the log has none of its own.' : 'The log has no width. Of a drone: the effective swath, from cards.'}
        .value=${file.swathM} .take=${(swathM: number | null) => change(file.path, { swathM })}></sv-number></div>
    </div>
  `;
}

function boomField({ path, boomBehindM }: ApplicationFile): TemplateResult {
  return html`
    <div class="field-grid"><sv-number class="field" label="Boom behind the logged position" quantity="length" blank="as described, else at it"
      hint="Where positions are those of the antenna. Ahead of it: below 0. Task data may describe it."
      .value=${boomBehindM ?? null} .take=${(behindM: number | null) => change(path, { boomBehindM: behindM })}></sv-number></div>
  `;
}

function productsTable(
  file: ApplicationFile,
  products: readonly NamedProduct[],
  current: TrialDocument,
): TemplateResult {
  const isAsked = products.some(({ meaning }) => meaning.kind === 'asked');
  return html`
    <div class="table-frame ${isAsked ? 'asked' : ''}" tabindex="0" role="region" aria-label="What the products of ${file.path} mean">
      <table class="entry-table">
        <thead>
          <tr>
            <th scope="col">Product in the log</th>
            <th scope="col">Rows</th>
            <th scope="col">What it is in the trial</th>
          </tr>
        </thead>
        <tbody>${products.map((product) => productRow(file, product, current))}</tbody>
      </table>
    </div>
  `;
}

const SEVERAL = 'several';
const ASKED = '';

function productRow(
  file: ApplicationFile,
  { name, rows, meaning }: NamedProduct,
  current: TrialDocument,
): TemplateResult {
  const shown = name === '' ? 'without a product' : name;
  const ids =
    meaning.kind === 'treatments' ? meaning.treatments.map((t) => current.treatments[t]?.id ?? '') : [];
  const said = file.products.find((own) => own.name === name);
  const isSeveral = (said?.means === 'treatments' && said.treatments.length !== 1) || ids.length > 1;
  const value = isSeveral ? SEVERAL : meaning.kind === 'treatments' ? `=${ids[0]}` : meaning.kind;
  return html`
    <tr>
      <th scope="row">${shown}</th>
      <td data-label="Rows">${rows}</td>
      <td data-label="In the trial">
        ${choiceField({
          id: `product-${file.path}-${name}`,
          label: `What ${shown} is in the trial`,
          hiddenLabel: true,
          value: value === 'asked' ? ASKED : value,
          choices: [
            { value: ASKED, label: 'Please say' },
            ...current.treatments.map((treatment) => ({ value: `=${treatment.id}`, label: treatment.name })),
            { value: SEVERAL, label: 'Part of several treatments' },
            { value: 'apart', label: 'On all strips alike, no part of the comparison' },
            { value: 'stray', label: 'Not of this trial' },
          ],
          take: (choice) => say(file, name, choice, ids),
        })}
        ${isSeveral ? severalTreatments(file, name, shown, said?.treatments ?? ids, current) : nothing}
      </td>
    </tr>
  `;
}

function severalTreatments(
  file: ApplicationFile,
  name: string,
  shown: string,
  chosen: readonly string[],
  current: TrialDocument,
): TemplateResult {
  return html`
    <fieldset class="several">
      <legend class="only-read">Treatments that were to get ${shown}</legend>
      ${current.treatments.map(
        ({ id, name: treatment }) => html`
          <label><input type="checkbox" .checked=${chosen.includes(id)}
            @change=${() => takeMeaning(file, { name, means: 'treatments', treatments: toggled(chosen, id) })} /> ${treatment}</label>
        `,
      )}
    </fieldset>
  `;
}

function toggled(chosen: readonly string[], id: string): string[] {
  return chosen.includes(id) ? chosen.filter((own) => own !== id) : [...chosen, id];
}

function say(file: ApplicationFile, name: string, choice: string, before: readonly string[]): void {
  if (choice === ASKED) {
    change(file.path, { products: file.products.filter((own) => own.name !== name) });
  } else if (choice === 'apart' || choice === 'stray') {
    takeMeaning(file, { name, means: choice, treatments: [] });
  } else if (choice === SEVERAL) {
    takeMeaning(file, { name, means: 'treatments', treatments: before.length > 1 ? [...before] : [] });
  } else takeMeaning(file, { name, means: 'treatments', treatments: [choice.slice(1)] });
}

function takeMeaning(file: ApplicationFile, said: LoggedProduct): void {
  change(file.path, { products: [...file.products.filter(({ name }) => name !== said.name), said] });
}

function change(path: string, changes: Partial<Omit<ApplicationFile, 'path'>>): boolean {
  return dispatch({ name: 'changeApplicationFile', path, changes });
}
