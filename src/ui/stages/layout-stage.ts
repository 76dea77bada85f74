import { html, nothing, type TemplateResult } from 'lit';
import { fieldMap } from '../../figures/field-map.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import type { Strip, TrialDocument } from '../../trial/trial-document.ts';
import '../parts/figure-frame.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { filePicker } from '../parts/file-picker.ts';
import { rowsInTurns } from '../parts/late-rows.ts';
import { part } from '../parts/page-part.ts';
import { sprayingCautionsPanel } from '../parts/spraying-cautions.ts';
import { lastRun } from '../state/analysis.ts';
import { keepLayoutRead, layoutRead } from '../state/layout-file.ts';
import { dispatch, trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import './draw-up-section.ts';
import './applied-section.ts';
import { layoutFileSection } from './layout-file-section.ts';
import './layout-move-section.ts';
import './strip-list-section.ts';

const STRIPS_A_TURN = 4;

/** The strips as they lie, and what each of them is. */
export class LayoutStage extends TurnElement {
  protected override whileShown(): () => void {
    return keepLayoutRead();
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null) return nothing;
    const field = lastRun.value?.field ?? null;
    return html`
      <h1>Layout</h1>
      ${current.strips.length === 0 && current.layoutFile === null ? emptyLayout() : nothing}
      ${
        field === null || field.strips.length === 0
          ? nothing
          : html`
            <section>
              <h2 class="only-read">The field as it lies</h2>
              <sv-figure file="field-map.svg" .draw=${(widthPx: number) => mapOf(field, current, widthPx)}></sv-figure>
            </section>`
      }
      ${field === null || field.strips.length === 0 || field.passes !== null ? nothing : html`<sv-layout-move .field=${field}></sv-layout-move>`}
      ${current.layoutFile === null ? nothing : layoutFileSection(current, current.layoutFile, layoutRead.value)}
      ${current.strips.length === 0 ? nothing : part(() => stripsSection(current))}
      ${part(() => html`<sv-draw-up-layout></sv-draw-up-layout>`)}
      ${current.strips.length === 0 && current.layoutFile !== null ? nothing : html`<sv-strip-list></sv-strip-list>`}
      ${current.strips.length === 0 ? nothing : html`<sv-as-applied></sv-as-applied>`}
      ${sprayingCautionsPanel()}
    `;
  }
}

function mapOf(field: FieldDrawing, current: TrialDocument, widthPx: number): string {
  return fieldMap(
    {
      strips: field.strips,
      planned: field.planned,
      treatments: current.treatments.map(({ name }) => name),
      unitSystem: current.unitSystem,
    },
    { widthPx },
  );
}

function emptyLayout(): TemplateResult {
  return html`
    <section>
      <p>
        No strips yet. Drop a file with one polygon for each strip anywhere on this page: GeoJSON, KML or KMZ, a
        shapefile (zipped, or its parts together), or a table of corner points. Its properties should say the treatment,
        and the block where there are blocks. Without a file, draw the strips up here, or list them.
      </p>
      <p class="actions">${filePicker('Choose a layout')}</p>
    </section>
  `;
}

function stripsSection(current: TrialDocument): TemplateResult {
  return html`
    <section aria-labelledby="strips-heading">
      <h2 id="strips-heading">Strips</h2>
      <div class="table-frame" tabindex="0" role="region" aria-labelledby="strips-heading">
        <table class="entry-table">
          <thead>
            <tr>
              <th scope="col">Strip</th>
              <th scope="col">Treatment</th>
              <th scope="col">Block</th>
              <th scope="col">Place across the field</th>
              <th scope="col"><span class="only-read">Remove</span></th>
            </tr>
          </thead>
          <tbody>${rowsInTurns(inFieldOrder(current.strips), STRIPS_A_TURN, (strip) => stripRow(strip, current))}</tbody>
        </table>
      </div>
      <p class="hint">A strip that was skipped or sprayed by mistake: give it the treatment that it really got, or remove it.</p>
    </section>
  `;
}

function inFieldOrder(strips: readonly Strip[]): readonly Strip[] {
  return [...strips].sort((a, b) => (a.place ?? Infinity) - (b.place ?? Infinity));
}

function stripRow(strip: Strip, current: TrialDocument): TemplateResult {
  const { id } = strip;
  const change = (changes: Partial<Omit<Strip, 'id' | 'polygon'>>) =>
    dispatch({ name: 'changeStrip', id, changes });
  return html`
    <tr>
      <th scope="row">${id}</th>
      <td data-label="Treatment">
        ${choiceField({
          id: `strip-treatment-${id}`,
          label: `Treatment of strip ${id}`,
          hiddenLabel: true,
          value: strip.treatment,
          choices: current.treatments.map((t) => ({ value: t.id, label: t.name })),
          take: (treatment) => change({ treatment }),
        })}
      </td>
      <td data-label="Block">
        ${choiceField({
          id: `strip-block-${id}`,
          label: `Block of strip ${id}`,
          hiddenLabel: true,
          value: strip.block ?? '',
          choices: [
            { value: '', label: 'none' },
            ...current.blocks.map((b) => ({ value: b.id, label: b.name })),
          ],
          take: (block) => change({ block: block === '' ? null : block }),
        })}
      </td>
      <td data-label="Place" class="short">
        <sv-number label="Place of strip ${id}" hiddenLabel blank=${(strip.passes?.length ?? 0) > 0 ? 'by passes' : 'not known'} .value=${strip.place}
          .take=${(place: number | null) => change({ place })}></sv-number>
      </td>
      <td><button type="button" class="plain" aria-label="Remove strip ${id}" @click=${() => dispatch({ name: 'removeStrip', id })}>Remove</button></td>
    </tr>
  `;
}

customElements.define('sv-layout-stage', LayoutStage);
