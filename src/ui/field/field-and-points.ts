import { html, nothing, type PropertyDeclarations, svg, type TemplateResult } from 'lit';
import { guard } from 'lit/directives/guard.js';
import { type TreatmentMarks, treatmentMarks } from '../../figures/treatment-marks.ts';
import { type LocalFrame, localProjection } from '../../geometry/local-projection.ts';
import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { FieldDrawing } from '../../pipeline/analyse-trial.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { fixed } from '../../words/number-formats.ts';
import { unitOf } from '../edge-units.ts';
import { drawnCorners } from '../state/area-drawing.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';
import { dragCorner, dropCorner, gripCorner } from './area-corners.ts';
import { areaOutlines } from './area-outlines.ts';
import { reasonKeys, scaleBar, yieldScale } from './field-legend.ts';
import { FieldPainter } from './field-painter.ts';
import {
  boundsOf,
  boundsOfPoints,
  type FieldView,
  fitView,
  type GroundBounds,
  panBy,
  toGround,
  toPx,
  zoomAt,
} from './field-view.ts';
import { draggedBy, gripAt, type HeldLayout, heldLayoutPicture, type LayoutGrip } from './held-layout.ts';
import './point-facts-panel.ts';
import { nearestPoint, neighbourInFile } from './nearest-point.ts';
import type { Shown } from './point-raster.ts';
import { reasonWords } from './set-aside-reasons.ts';
import { sortedPoints } from './sorted-points.ts';
import { stripNamePlace } from './strip-name-place.ts';

type StripDrawing = FieldDrawing['strips'][number];

const REACH_PX = 14;
const ZOOM_STEP = 1.6;
const LEAST_HEIGHT_PX = 260;
const MOST_HEIGHT_SHARE = 0.62;

/**
 * The field as it lies, north up: strips as outlines over the points of the harvest. Kept points are dots, points
 * set aside are crosses; the nearest one tells what became of it, to the mouse, the finger and the keyboard.
 */
export class FieldAndPoints extends TurnElement {
  static override readonly properties: PropertyDeclarations = {
    field: { attribute: false },
    held: { attribute: false },
    view: { state: true },
    showSetAside: { state: true },
    shown: { state: true },
    chosen: { state: true },
  };

  declare field: FieldDrawing | null;
  /** A layout that may be dragged; null: dragging moves the field. */
  declare held: HeldLayout | null;
  declare view: FieldView | null;
  declare showSetAside: boolean;
  declare shown: Shown;
  /** Index of the point that is being told about; -1: none. */
  declare chosen: number;
  #resize: ResizeObserver | null = null;
  /** Of the frame; 0: not known yet. */
  #widthPx = 0;
  #painter: FieldPainter | null = null;
  #grip: { x: number; y: number; moved: boolean } | null = null;
  #layoutGrip: (LayoutGrip & { readonly clientX: number; readonly clientY: number }) | null = null;

  constructor() {
    super();
    this.field = null;
    this.held = null;
    this.view = null;
    this.showSetAside = true;
    this.shown = 'yield';
    this.chosen = -1;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#resize = new ResizeObserver(() => {
      // Asked here alone, where the page is laid out already: elsewhere the browser would have to do it first.
      this.#widthPx = this.querySelector('.field-frame')?.clientWidth ?? this.clientWidth;
      // A new height alone comes from the words beneath, and must not undo the user's own scale.
      if (this.#widthPx !== this.view?.widthPx) this.#fit();
    });
    this.#resize.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#painter?.stop();
    this.#painter = null;
    this.#resize?.disconnect();
  }

  protected override willUpdate(changed: Map<string, unknown>): void {
    if (!changed.has('field')) return;
    const before = changed.get('field') as FieldDrawing | null | undefined;
    if (before?.points?.reason.length !== this.field?.points?.reason.length) this.chosen = -1;
    if (before?.strips.length !== this.field?.strips.length) this.#fit();
    else this.#keepGround(before?.frame ?? null, this.field?.frame ?? null);
  }

  /** Strips that are moved take the origin with them; the ground in sight stays where it is. */
  #keepGround(before: LocalFrame | null, now: LocalFrame | null): void {
    if (this.view === null || before === null || now === null) return;
    const [eastM, northM] = localProjection(now).toLocal(before.originLongitude, before.originLatitude);
    if (eastM === 0 && northM === 0) return;
    const { centreEastM, centreNorthM } = this.view;
    this.view = { ...this.view, centreEastM: centreEastM + eastM, centreNorthM: centreNorthM + northM };
  }

  protected override render(): TemplateResult | typeof nothing {
    const { field, view } = this;
    const current = trial.value;
    if (field === null || current === null) return nothing;
    return html`
      ${this.#legend(field, current)}
      <div
        class=${this.held === null ? 'field-frame' : 'field-frame is-held'}
        tabindex="0"
        role="group"
        aria-label=${this.#label(field)}
        aria-describedby="field-keys"
        @keydown=${this.#key}
        @pointerdown=${this.#down}
        @pointermove=${this.#move}
        @pointerup=${this.#up}
        @pointercancel=${this.#up}
        @pointerleave=${this.#leave}
        @wheel=${this.#wheel}
      >
        <canvas aria-hidden="true"></canvas>
        ${view === null ? nothing : stripOutlines(field, view, current, this.#chosenPlace(view), this.held)}
        <span class="north" aria-hidden="true">N ↑</span>
      </div>
      ${
        field.points === null || this.held !== null
          ? nothing
          : html`<p class="field-says" role="status">${this.#says(field.points, current)}</p>
      <sv-point-facts .points=${field.points} .index=${this.chosen} .areJudged=${field.arePointsJudged !== false}></sv-point-facts>`
      }
      <p id="field-keys" class="hint">
        ${field.points === null || this.held !== null ? '' : 'Point at a mark, or step with the arrow keys; with Shift only to marks set aside. '}Drag${this.held === null ? '' : ' beside the strips'}
        moves the field, plus and minus change the scale.
      </p>
    `;
  }

  protected override updated(): void {
    const { field, view } = this;
    const canvas = this.querySelector('canvas');
    if (canvas === null || field === null) return;
    if (view === null) {
      this.#fit();
      return;
    }
    if (this.#painter?.canvas !== canvas) {
      this.#painter?.stop();
      this.#painter = new FieldPainter(canvas);
    }
    const { showSetAside, shown } = this;
    this.#painter.show({ points: field.points, view, showSetAside, shown });
    // Sorted before the first pointer comes.
    if (field.points !== null && this.held === null) sortedPoints(field.points);
  }

  #legend(field: FieldDrawing, current: TrialDocument): TemplateResult {
    return html`
      <div class="field-legend">
        ${field.points === null ? nothing : this.#pointKeys(field.points, current)}
        ${field.planned.length === 0 ? nothing : plannedKey()}
        <div class="field-zoom">
          <button type="button" aria-label="Closer" @click=${() => this.#zoom(ZOOM_STEP)}>+</button>
          <button type="button" aria-label="Further away" @click=${() => this.#zoom(1 / ZOOM_STEP)}>−</button>
          <button type="button" @click=${this.#fit}>Whole field</button>
        </div>
      </div>
      <p class="field-codes">
        ${[...marksOf(current, field).values()].map(({ code, colour, treatment }) => html`<span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><circle cx="7" cy="7" r="4" fill=${colour} /></svg><b>${code}</b> ${treatment}</span>`)}
      </p>
    `;
  }

  #pointKeys(points: PlacedPoints, current: TrialDocument): TemplateResult {
    if (this.field?.arePointsJudged === false)
      return yieldScale(points, current, 'not judged yet, since there are no strips');
    const { shown } = this;
    return html`
      <label>Colours show
        <select @change=${this.#chooseShown}>
          <option value="yield" .selected=${shown === 'yield'}>yield</option>
          <option value="reason" .selected=${shown === 'reason'}>why points were set aside</option>
        </select>
      </label>
      ${
        shown === 'reason'
          ? html`<span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><rect x="4" y="4" width="6" height="6" fill="#cfcabb" /></svg> kept</span> ${reasonKeys(points)}`
          : html`${yieldScale(points, current, 'kept')}
            <span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><path d="M2 2 12 12M12 2 2 12" stroke="#a8431a" stroke-width="2" /></svg> set aside</span>`
      }
      <label>
        <input type="checkbox" .checked=${this.showSetAside} @change=${this.#toggleSetAside} />
        Show what was set aside
      </label>
    `;
  }

  #label(field: FieldDrawing): string {
    const strips = `The field with ${field.strips.length} strips`;
    return field.points === null ? strips : `${strips} and ${field.points.reason.length} points`;
  }

  #says(points: PlacedPoints, current: TrialDocument): string {
    const index = this.chosen;
    if (index < 0) return 'No mark chosen.';
    const unit = unitOf('yield', current);
    const why = reasonWords(points.reason[index] ?? 0);
    const isJudged = this.field?.arePointsJudged !== false;
    const value = points.yieldKgPerHa[index] ?? Number.NaN;
    const strip = current.strips[points.strip[index] ?? -1];
    const treatment = current.treatments.find(({ id }) => id === strip?.treatment);
    return [
      why !== null ? `Set aside: ${why}` : isJudged ? 'Kept' : 'Not judged yet',
      Number.isNaN(value) ? 'no yield' : `${fixed(value * unit.perSi, 2)} ${unit.label}`,
      strip === undefined
        ? isJudged
          ? 'in no strip'
          : 'no strips yet'
        : `strip ${strip.id}, ${treatment?.name ?? strip.treatment}`,
      `point ${index + 1} of ${points.reason.length}`,
    ].join(' · ');
  }

  #chosenPlace(view: FieldView): readonly [number, number] | null {
    const points = this.field?.points;
    if (!points || this.chosen < 0) return null;
    return toPx(view, points.eastM[this.chosen] ?? 0, points.northM[this.chosen] ?? 0);
  }

  readonly #fit = (): void => {
    const { field } = this;
    const bounds = field === null ? null : groundInSight(field);
    const widthPx = this.#widthPx;
    if (bounds === null || widthPx === 0) return;
    const aspect = (bounds.northM - bounds.southM) / Math.max(bounds.eastM - bounds.westM, 1);
    const most = Math.max(LEAST_HEIGHT_PX, innerHeight * MOST_HEIGHT_SHARE);
    const heightPx = Math.round(Math.min(most, Math.max(LEAST_HEIGHT_PX, widthPx * aspect)));
    this.view = fitView(bounds, widthPx, heightPx);
  };

  #zoom(factor: number): void {
    if (this.view === null) return;
    this.view = zoomAt(this.view, factor, this.view.widthPx / 2, this.view.heightPx / 2);
  }

  readonly #toggleSetAside = (event: Event): void => {
    if (event.target instanceof HTMLInputElement) this.showSetAside = event.target.checked;
  };

  readonly #chooseShown = (event: Event): void => {
    if (event.target instanceof HTMLSelectElement)
      this.shown = event.target.value === 'reason' ? 'reason' : 'yield';
  };

  readonly #down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    const { held, view, field } = this;
    if (held !== null && view !== null && field !== null) {
      const grip = gripAt(held, field.strips, view, this.#placeIn(event));
      this.#layoutGrip = grip && { ...grip, clientX: event.clientX, clientY: event.clientY };
      // Beyond the frame the drag goes on.
      if (this.#layoutGrip !== null && event.currentTarget instanceof Element)
        event.currentTarget.setPointerCapture(event.pointerId);
    }
    if (
      gripCorner(field?.frame ?? null, view, this.#placeIn(event)) &&
      event.currentTarget instanceof Element
    )
      event.currentTarget.setPointerCapture(event.pointerId);
    this.#grip = { x: event.clientX, y: event.clientY, moved: false };
  };

  readonly #move = (event: PointerEvent): void => {
    const grip = this.#grip;
    if (grip === null) {
      this.#choose(event);
      return;
    }
    const dx = event.clientX - grip.x;
    const dy = event.clientY - grip.y;
    if (!grip.moved && Math.hypot(dx, dy) < 4) return;
    if (this.view !== null && dragCorner(toGround(this.view, ...this.#placeIn(event)))) return;
    if (this.#layoutGrip !== null) this.#dragLayout(this.#layoutGrip, event);
    else if (this.view !== null) this.view = panBy(this.view, dx, dy);
    this.#grip = { x: event.clientX, y: event.clientY, moved: true };
  };

  readonly #up = (event: PointerEvent): void => {
    if (this.#layoutGrip !== null) this.#letGo();
    else if (dropCorner(this.field?.frame ?? null)) this.#grip = null;
    else if (this.#grip?.moved === false) {
      if (drawnCorners.value === null) this.#choose(event);
      else this.#addCorner(event);
    }
    this.#grip = null;
  };

  readonly #leave = (): void => {
    if (this.#layoutGrip === null) this.#grip = null;
  };

  /** By the way of the hand alone: the page may move beneath it, when an answer comes in. */
  #dragLayout(
    grip: LayoutGrip & { clientX: number; clientY: number },
    { clientX, clientY }: PointerEvent,
  ): void {
    const { held, view } = this;
    if (held === null || view === null) return;
    held.drag(draggedBy(grip, held, view, [clientX - grip.clientX, clientY - grip.clientY]));
  }

  #letGo(): void {
    this.#layoutGrip = null;
    this.held?.letGo();
  }

  readonly #wheel = (event: WheelEvent): void => {
    // Without Ctrl the wheel belongs to the page.
    if (!event.ctrlKey || this.view === null) return;
    event.preventDefault();
    const [x, y] = this.#placeIn(event);
    this.view = zoomAt(this.view, event.deltaY < 0 ? ZOOM_STEP : 1 / ZOOM_STEP, x, y);
  };

  #choose(event: PointerEvent): void {
    const points = this.field?.points;
    if (!points || this.view === null) return;
    const [east, north] = toGround(this.view, ...this.#placeIn(event));
    const reachM = REACH_PX / this.view.pxPerM;
    this.chosen = nearestPoint(points, sortedPoints(points), east, north, reachM, this.showSetAside);
  }

  #addCorner(event: PointerEvent): void {
    if (this.view === null) return;
    drawnCorners.value = [...(drawnCorners.value ?? []), toGround(this.view, ...this.#placeIn(event))];
  }

  #placeIn(event: MouseEvent): [number, number] {
    const frame = this.querySelector('.field-frame')?.getBoundingClientRect();
    return [event.clientX - (frame?.left ?? 0), event.clientY - (frame?.top ?? 0)];
  }

  readonly #key = (event: KeyboardEvent): void => {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = STEP_BY_KEY[event.key];
    if (event.key === 'Escape') this.#layoutGrip = null;
    if (this.held?.key(event)) {
      event.preventDefault();
      return;
    }
    if (step !== undefined) this.#step(step, event.shiftKey);
    else if (event.key === '+' || event.key === '=') this.#zoom(ZOOM_STEP);
    else if (event.key === '-') this.#zoom(1 / ZOOM_STEP);
    else if (event.key === '0') this.#fit();
    else return;
    event.preventDefault();
  };

  #step(step: 1 | -1, onlySetAside: boolean): void {
    const points = this.field?.points;
    if (!points) return;
    this.chosen = neighbourInFile(points, this.chosen, step, (reason) =>
      onlySetAside ? reason !== 0 : this.showSetAside || reason === 0,
    );
  }
}

const STEP_BY_KEY: Readonly<Record<string, 1 | -1>> = {
  ArrowRight: 1,
  ArrowDown: 1,
  ArrowLeft: -1,
  ArrowUp: -1,
};

/** The strips, wherever they lie or were planned; without any, the points. */
function groundInSight({ strips, planned, points }: FieldDrawing): GroundBounds | null {
  return boundsOf([...strips, ...planned]) ?? (points === null ? null : boundsOfPoints(points));
}

function plannedKey(): TemplateResult {
  return html`<span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><path d="M1 7H13" stroke="#5b574f" stroke-width="1.5" stroke-dasharray="4 3" /></svg> as planned</span>`;
}

function stripOutlines(
  field: FieldDrawing,
  view: FieldView,
  current: TrialDocument,
  chosen: readonly [number, number] | null,
  held: HeldLayout | null,
): TemplateResult {
  const { strips, planned, frame } = field;
  return html`
    <svg class="field-strips" viewBox="0 0 ${view.widthPx} ${view.heightPx}" aria-hidden="true">
      ${guard([field, view, current], () => [
        planned.length === 0 ? nothing : svg`<path class="planned" d=${outlines(planned, view)}></path>`,
        svg`<path d=${outlines(strips, view)}></path>`,
        stripCodes(field, view, current),
      ])}
      ${frame === null ? nothing : areaOutlines(current, frame, view, drawnCorners.value)}
      ${scaleBar(view, current)} ${held === null ? nothing : heldLayoutPicture(held, view)}
      ${chosen === null ? nothing : svg`<circle class="chosen" cx=${chosen[0]} cy=${chosen[1]} r="8"></circle>`}
    </svg>
  `;
}

function stripCodes(
  field: FieldDrawing,
  view: FieldView,
  current: TrialDocument,
): readonly (TemplateResult | typeof nothing)[] {
  const marks = marksOf(current, field);
  return field.strips.map((strip) => stripCode(strip, view, marks));
}

function stripCode(
  { rings, treatment }: StripDrawing,
  view: FieldView,
  marks: TreatmentMarks,
): TemplateResult | typeof nothing {
  const place = stripNamePlace(rings[0] ?? [], view);
  const mark = marks.get(treatment);
  if (place === null) return nothing;
  return svg`<text x=${place[0]} y=${place[1]} fill=${mark?.colour ?? '#1c1b19'}>${mark?.code ?? treatment}</text>`;
}

/** Of the trial's treatments, and of those that strips to be drawn up bring with them. */
function marksOf({ treatments }: TrialDocument, { strips }: FieldDrawing): TreatmentMarks {
  const names = [...treatments.map(({ name }) => name), ...strips.map(({ treatment }) => treatment)];
  return treatmentMarks([...new Set(names)]);
}

function outlines(strips: readonly StripDrawing[], view: FieldView): string {
  return strips.flatMap(({ rings }) => rings.map((ring) => outline(ring, view))).join('');
}

function outline(ring: StripDrawing['rings'][number], view: FieldView): string {
  const corners = ring.map(([eastM, northM]) =>
    toPx(view, eastM, northM)
      .map((px) => px.toFixed(1))
      .join(' '),
  );
  return `M${corners.join('L')}Z`;
}

customElements.define('sv-field-and-points', FieldAndPoints);
