import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import type { LocalFrame } from '../../geometry/local-projection.ts';
import type { ExclusionArea, ExclusionReason } from '../../trial/exclusion-area.ts';
import { EXCLUSION_WORDS } from '../../words/exclusion-words.ts';
import { cornersOf, moveCorner } from '../field/area-corners.ts';
import { choiceField, textField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { editedArea } from '../state/area-drawing.ts';
import { dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

/** Changes an area that is left out: what is there, what it is cut from, why, and its corners; each change is one step to undo. */
export class AreaEditor extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    area: { attribute: false },
    frame: { attribute: false },
  };

  declare area: ExclusionArea | null;
  declare frame: LocalFrame | null;

  constructor() {
    super();
    this.area = null;
    this.frame = null;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { area, frame } = this;
    const current = trial.value;
    if (area === null || frame === null || current === null) return nothing;
    const reasons = Object.entries(EXCLUSION_WORDS) as [ExclusionReason, string][];
    return html`
      <div class="area-editor" role="group" aria-label="Change area ${area.id}">
        <div class="field-grid">
          ${choiceField({
            id: `area-${area.id}-reason`,
            label: 'What is there',
            value: area.reason,
            choices: reasons.map(([value, label]) => ({ value, label })),
            take: (reason) => this.#change({ reason }),
          })}
          ${textField({
            id: `area-${area.id}-note`,
            label: area.strip === null ? 'In your words (may stay blank)' : 'Why this strip alone',
            value: area.note,
            take: (note) => this.#change({ note }),
          })}
          ${choiceField({
            id: `area-${area.id}-only`,
            label: 'Cut from',
            value: area.strip ?? '',
            choices: [
              { value: '', label: 'every strip of the block' },
              ...current.strips.map(({ id }) => ({ value: id, label: `strip ${id} alone` })),
            ],
            take: (only) => this.#change({ strip: only === '' ? null : only }),
          })}
        </div>
        ${corners(area, frame)}
        <p class="fault" role="status">${editedArea.value?.fault ?? ''}</p>
        <p class="actions"><button type="button" @click=${done}>Done with area ${area.id}</button></p>
      </div>
    `;
  }

  #change(changes: Partial<Omit<ExclusionArea, 'id'>>): void {
    const { area } = this;
    if (area === null) return;
    const { strip, note } = { ...area, ...changes };
    const fault =
      strip !== null && note.trim() === ''
        ? `An area that is cut from strip ${strip} alone says why: write that first.`
        : '';
    editedArea.value = { id: area.id, drag: null, fault };
    if (fault === '') dispatch({ name: 'changeExclusion', id: area.id, changes });
    this.requestUpdate();
  }
}

function corners(area: ExclusionArea, frame: LocalFrame): TemplateResult {
  const places = cornersOf(area, frame);
  if (places === null)
    return html`<p class="hint">It has several parts or a hole, so that its corners cannot be moved here; take it back in and draw it anew.</p>`;
  const move = (corner: number, along: 0 | 1) => (metres: number | null) => {
    const place = places[corner];
    if (metres === null || place === undefined) return false;
    return moveCorner(area.id, corner, along === 0 ? [metres, place[1]] : [place[0], metres], frame);
  };
  return html`
    <fieldset>
      <legend>Corners</legend>
      <p class="hint">Drag a corner on the field above, or give its place: east and north of the middle of the trial.</p>
      <ol class="area-corners">
        ${places.map(
          ([east, north], corner) => html`
            <li>
              <sv-number class="field" label="Corner ${corner + 1}, east" quantity="length" .value=${rounded(east)} .take=${move(corner, 0)}></sv-number>
              <sv-number class="field" label="Corner ${corner + 1}, north" quantity="length" .value=${rounded(north)} .take=${move(corner, 1)}></sv-number>
            </li>
          `,
        )}
      </ol>
    </fieldset>
  `;
}

/** To a centimetre. */
function rounded(metres: number): number {
  return Math.round(100 * metres) / 100;
}

function done(): void {
  editedArea.value = null;
}

customElements.define('sv-area-editor', AreaEditor);
