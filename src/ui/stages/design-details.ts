import { html, nothing, type TemplateResult } from 'lit';
import type { Inference, Strip, TrialDocument } from '../../trial/trial-document.ts';
import { type Choice, choiceField, textField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { dispatch } from '../state/session.ts';

const SQUARE: readonly Choice<'blocks' | 'square'>[] = [
  { value: 'blocks', label: 'As set out above' },
  { value: 'square', label: 'As a Latin square: rows and columns' },
];

/** Designs beyond blocks: opens on demand, and by itself where one was chosen. */
export function designDetails(current: TrialDocument): TemplateResult {
  const { square, covariate } = current.inference;
  const isChosen = square === true || Boolean(covariate);
  return html`
    <details ?open=${isChosen}>
      <summary>Latin square, or something measured on each strip beforehand</summary>
      <div class="field-grid">
        ${choiceField({
          id: 'square',
          label: 'How the strips are grouped',
          value: square === true ? 'square' : 'blocks',
          choices: SQUARE,
          hint: 'In a Latin square every treatment lies once in each row and once in each column.',
          take: (chosen) => decide({ square: chosen === 'square' ? true : null }),
        })}
        ${textField({
          id: 'covariate',
          label: 'Measured on each strip beside the yield',
          value: covariate ?? '',
          hint: 'Its name, such as the stand or last year’s yield. It must not have been moved by the treatments.',
          take: (name) => decide({ covariate: name.trim() === '' ? null : name.trim() }),
        })}
      </div>
      ${isChosen && current.strips.length > 0 ? stripTable(current) : nothing}
    </details>
  `;
}

function stripTable({ strips, treatments, inference }: TrialDocument): TemplateResult {
  const names = new Map(treatments.map(({ id, name }) => [id, name]));
  const isSquare = inference.square === true;
  const covariate = inference.covariate ?? null;
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-label="What each strip has beside its treatment">
      <table class="entry-table">
        <thead>
          <tr>
            <th scope="col">Strip</th>
            <th scope="col">Treatment</th>
            ${isSquare ? html`<th scope="col">Row</th><th scope="col">Column</th>` : nothing}
            ${covariate === null ? nothing : html`<th scope="col">${covariate}</th>`}
          </tr>
        </thead>
        <tbody>
          ${strips.map(
            (strip) => html`
              <tr>
                <th scope="row">${strip.id}</th>
                <td data-label="Treatment">${names.get(strip.treatment) ?? strip.treatment}</td>
                ${isSquare ? html`${levelCell(strip, 'row', 'Row')}${levelCell(strip, 'column', 'Column')}` : nothing}
                ${covariate === null ? nothing : covariateCell(strip, covariate)}
              </tr>
            `,
          )}
        </tbody>
      </table>
    </div>
  `;
}

function levelCell(strip: Strip, key: 'row' | 'column', label: string): TemplateResult {
  return html`
    <td data-label=${label}>
      ${textField({
        id: `strip-${key}-${strip.id}`,
        label: `${label} of strip ${strip.id}`,
        hiddenLabel: true,
        value: strip[key] ?? '',
        take: (text) => changeStrip(strip.id, { [key]: text.trim() === '' ? null : text.trim() }),
      })}
    </td>
  `;
}

function covariateCell({ id, covariate }: Strip, name: string): TemplateResult {
  return html`
    <td data-label=${name} class="short">
      <sv-number label="${name} of strip ${id}" hiddenLabel blank="none" .value=${covariate ?? null}
        .take=${(value: number | null) => changeStrip(id, { covariate: value })}></sv-number>
    </td>
  `;
}

function changeStrip(id: string, changes: Partial<Omit<Strip, 'id' | 'polygon'>>) {
  return dispatch({ name: 'changeStrip', id, changes });
}

function decide(changes: Partial<Inference>): void {
  dispatch({ name: 'changeInference', changes });
}
