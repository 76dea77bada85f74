import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { localPolygon } from '../../geometry/local-polygon.ts';
import type { LocalFrame, LocalPosition } from '../../geometry/local-projection.ts';
import { orientedStrip } from '../../geometry/oriented-strip.ts';
import { ringCrossesItself } from '../../geometry/self-crossing.ts';
import { stretchOfStrip } from '../../geometry/stretch-of-strip.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import { type ExclusionArea, type ExclusionReason, freeAreaIds } from '../../trial/exclusion-area.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { EXCLUSION_WORDS } from '../../words/exclusion-words.ts';
import { polygonOf } from '../field/area-corners.ts';
import { saidProblem } from '../notice-panel.ts';
import { choiceField, textField } from '../parts/fields.ts';
import { filePicker } from '../parts/file-picker.ts';
import '../parts/number-field.ts';
import { lastRun } from '../state/analysis.ts';
import { drawnCorners, editedArea } from '../state/area-drawing.ts';
import { openAreas } from '../state/opening-areas.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import './area-editor.ts';

const FEWEST_CORNERS = 3;

/** Ground left out by hand: drawn on the field, or given as a stretch of a strip; each area is one step to undo. */
export class AreasSection extends TurnElement {
  static override readonly properties: PropertyDeclarations = {
    field: { attribute: false },
    reason: { state: true },
    only: { state: true },
    note: { state: true },
    strip: { state: true },
    fromM: { state: true },
    toM: { state: true },
    fault: { state: true },
    isOpen: { state: true },
  };

  declare field: FieldDrawing | null;
  declare reason: ExclusionReason;
  /** The one strip that it is cut from; blank: every strip of its blocks. */
  declare only: string;
  declare note: string;
  /** Of the stretch given in numbers; blank: the first drawn. */
  declare strip: string;
  declare fromM: number | null;
  declare toM: number | null;
  declare fault: string;
  declare isOpen: boolean;

  constructor() {
    super();
    this.field = null;
    this.reason = 'wetHole';
    this.only = '';
    this.note = '';
    this.strip = '';
    this.fromM = null;
    this.toM = null;
    this.fault = '';
    this.isOpen = false;
  }

  protected override whileShown(): () => void {
    addEventListener('keydown', this.#key);
    return () => {
      removeEventListener('keydown', this.#key);
      drawnCorners.value = null;
      editedArea.value = null;
    };
  }

  /** While drawing: Enter leaves the area out, Escape stops; controls keep their own keys. */
  readonly #key = (event: KeyboardEvent): void => {
    const corners = drawnCorners.value;
    const isOnControl =
      event.target instanceof Element && event.target.matches('input, select, button, summary, a');
    if (corners === null || event.defaultPrevented) return;
    if (event.key === 'Escape') {
      this.#end();
      announcement.value = 'Drawing was stopped; nothing was left out.';
    } else if (event.key === 'Enter' && !isOnControl) {
      if (corners.length >= FEWEST_CORNERS) this.#take(corners);
      else this.fault = `An area needs at least ${FEWEST_CORNERS} corners.`;
    } else return;
    event.preventDefault();
  };

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null || this.field === null || this.field.strips.length === 0) return nothing;
    return html`
      <section aria-labelledby="areas-heading" @drop=${takeDropped}>
        <h2 id="areas-heading">Areas left out</h2>
        ${areasList(current, this.field.frame)} ${areaProblems()}
        <details ?open=${this.isOpen} @toggle=${this.#toggled}>
          <summary>Leave out an area</summary>
          <p class="hint">
            The stretch that an area covers is cut from every strip of its block, so that no treatment loses ground that
            another keeps. Cut from one strip alone, it is held against the treatments.
          </p>
          ${this.#choices(current)} ${this.#pointerWay()} ${this.#numbersWay(this.field)}
          <p class="fault" role="status">${this.fault}</p>
        </details>
        ${fromFiles()}
      </section>
    `;
  }

  #choices(current: TrialDocument): TemplateResult {
    const reasons = Object.entries(EXCLUSION_WORDS) as [ExclusionReason, string][];
    return html`
      <div class="field-grid">
        ${choiceField({
          id: 'area-reason',
          label: 'What is there',
          value: this.reason,
          choices: reasons.map(([value, label]) => ({ value, label })),
          take: (reason) => {
            this.reason = reason;
          },
        })}
        ${choiceField({
          id: 'area-only',
          label: 'Cut from',
          value: this.only,
          choices: [
            { value: '', label: 'every strip of the block' },
            ...current.strips.map(({ id }) => ({ value: id, label: `strip ${id} alone` })),
          ],
          take: (only) => {
            this.only = only;
          },
        })}
        ${textField({
          id: 'area-note',
          label: this.only === '' ? 'In your words (may stay blank)' : 'Why this strip alone',
          value: this.note,
          take: (note) => {
            this.note = note;
          },
        })}
      </div>
    `;
  }

  #pointerWay(): TemplateResult {
    const corners = drawnCorners.value;
    if (corners === null)
      return html`
        <fieldset>
          <legend>On the field</legend>
          <p class="actions"><button type="button" @click=${this.#begin}>Draw on the field above</button></p>
        </fieldset>
      `;
    return html`
      <fieldset>
        <legend>On the field</legend>
        <p role="status">Click or tap the corners on the field, one after the other. Corners so far: ${corners.length}.</p>
        <p class="hint">Enter leaves the area out, Escape stops drawing.</p>
        <p class="actions">
          <button type="button" ?disabled=${corners.length < FEWEST_CORNERS} @click=${() => this.#take(corners)}>Leave it out</button>
          <button type="button" ?disabled=${corners.length === 0} @click=${this.#dropLast}>Take the last corner back</button>
          <button type="button" class="plain" @click=${this.#end}>Stop drawing</button>
        </p>
      </fieldset>
    `;
  }

  #numbersWay(field: FieldDrawing): TemplateResult {
    const strip = this.strip || (field.strips[0]?.id ?? '');
    return html`
      <fieldset>
        <legend>In numbers</legend>
        <div class="field-grid">
          ${choiceField({
            id: 'area-strip',
            label: 'Along strip',
            value: strip,
            choices: field.strips.map(({ id }) => ({ value: id, label: id })),
            take: (id) => {
              this.strip = id;
            },
          })}
          <sv-number class="field" label="From" quantity="length" blank="" .value=${this.fromM}
            hint="From the strip’s southern end; its western end where it runs east."
            .take=${(metres: number | null) => {
              this.fromM = metres;
              return true;
            }}></sv-number>
          <sv-number class="field" label="To" quantity="length" blank="" .value=${this.toM}
            .take=${(metres: number | null) => {
              this.toM = metres;
              return true;
            }}></sv-number>
        </div>
        <p class="actions"><button type="button" @click=${() => this.#takeStretch(field, strip)}>Leave out this stretch</button></p>
      </fieldset>
    `;
  }

  readonly #toggled = (event: Event): void => {
    this.isOpen = event.target instanceof HTMLDetailsElement && event.target.open;
  };

  readonly #begin = (): void => {
    drawnCorners.value = [];
    this.fault = '';
    announcement.value = 'Drawing an area.';
  };

  readonly #end = (): void => {
    drawnCorners.value = null;
    this.fault = '';
  };

  readonly #dropLast = (): void => {
    drawnCorners.value = drawnCorners.value?.slice(0, -1) ?? null;
  };

  #takeStretch(field: FieldDrawing, id: string): void {
    const ring = field.strips.find((strip) => strip.id === id)?.rings[0];
    const { fromM, toM } = this;
    if (ring === undefined) return;
    if (fromM === null || toM === null || toM <= fromM) {
      this.fault = 'Give from and to as distances along the strip, to beyond from.';
      return;
    }
    this.#take(stretchOfStrip(orientedStrip(localPolygon(ring)), fromM, toM));
  }

  #take(corners: readonly LocalPosition[]): void {
    const [current, frame] = [trial.peek(), this.field?.frame ?? null];
    if (current === null || frame === null) return;
    if (this.only !== '' && this.note.trim() === '') {
      this.fault = `Say why the area is cut from strip ${this.only} alone.`;
      return;
    }
    if (ringCrossesItself(corners)) {
      this.fault =
        'The outline crosses itself, so that what lies inside it cannot be told. Take corners back, or stop and draw anew.';
      return;
    }
    const area: ExclusionArea = {
      id: freeAreaIds(current)[0]!,
      reason: this.reason,
      note: this.note,
      strip: this.only === '' ? null : this.only,
      polygon: polygonOf(corners, frame),
    };
    if (!dispatch({ name: 'addExclusion', area })) return;
    drawnCorners.value = null;
    this.fault = '';
    this.note = '';
    announcement.value = `Area ${area.id} is left out.`;
  }
}

/** Said of the areas by the last answer: of ground they miss, of treatments that lose more than others. */
function areaProblems(): TemplateResult | typeof nothing {
  const said = (lastRun.value?.report.problems ?? []).filter(({ code }) => code.startsWith('exclusion'));
  return said.length === 0 ? nothing : html`<ul class="problems">${said.map(saidProblem)}</ul>`;
}

function areasList({ harvest }: TrialDocument, frame: LocalFrame | null): TemplateResult {
  const areas = harvest.exclusions ?? [];
  if (areas.length === 0) return html`<p>None. All ground that the screens leave counts.</p>`;
  return html`
    <ul class="areas">
      ${areas.map(
        (area) => html`
          <li>
            <span><b>${area.id}</b> ${EXCLUSION_WORDS[area.reason]}${area.note === '' ? '' : `: ${area.note}`}, cut from
            ${area.strip === null ? 'every strip of the block' : `strip ${area.strip} alone`}</span>
            <button type="button" class="plain" aria-label="Change area ${area.id}" aria-expanded=${String(area.id === editedArea.value?.id)}
              @click=${() => toggleEditor(area.id)}>Change</button>
            <button type="button" class="plain" aria-label="Take area ${area.id} back in"
              @click=${() => dispatch({ name: 'removeExclusion', id: area.id })}>Take back in</button>
            ${area.id === editedArea.value?.id ? html`<sv-area-editor .area=${area} .frame=${frame}></sv-area-editor>` : nothing}
          </li>
        `,
      )}
    </ul>
  `;
}

function toggleEditor(id: string): void {
  editedArea.value = editedArea.peek()?.id === id ? null : { id, drag: null, fault: '' };
}

function fromFiles(): TemplateResult {
  return html`
    <p class="actions">${filePicker('Take areas from a file', 'calm', openAreas)}</p>
    <p class="hint">
      Or drop it on this section: polygons as GeoJSON, KML, KMZ or shapefile. A property “kind” says what is there; “strip” cuts the
      area from that strip alone, and “note” then says why.
    </p>
  `;
}

/** What is dropped here is a file of areas, whatever else it might pass for. */
function takeDropped(event: DragEvent): void {
  event.preventDefault();
  void openAreas([...(event.dataTransfer?.files ?? [])]);
}

customElements.define('sv-areas-left-out', AreasSection);
