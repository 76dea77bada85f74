import { html, nothing, type PropertyDeclarations, svg, type TemplateResult } from 'lit';
import { treatmentMarks } from '../../figures/treatment-marks.ts';
import type { AnalysisRun, FieldDrawing } from '../../pipeline/analyse-trial.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { boundsOf, type FieldView, fitView, toPx } from './field-view.ts';
import { stripNamePlace } from './strip-name-place.ts';

type Applied = NonNullable<AnalysisRun['applied']>;

const LEAST_HEIGHT_PX = 220;
const MOST_HEIGHT_SHARE = 0.5;
/** So thin that two swaths over each other are seen to be two. */
const SWATH_ALPHA = 0.38;
const STRAY_COLOUR = '#1c1b19';

/**
 * The logged swaths over the strips, north up: each in the colour of the treatment that was to get it, strips as
 * outlines with their code, stretches that are not used hatched. The table beneath it says the same in figures.
 */
export class AppliedField extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    field: { attribute: false },
    applied: { attribute: false },
    widthPx: { state: true },
  };

  declare field: FieldDrawing | null;
  declare applied: Applied | null;
  declare widthPx: number;
  #resize: ResizeObserver | null = null;
  #painted: readonly unknown[] = [];

  constructor() {
    super();
    this.field = null;
    this.applied = null;
    this.widthPx = 0;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#resize = new ResizeObserver(() => {
      this.widthPx = this.clientWidth;
    });
    this.#resize.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize?.disconnect();
  }

  protected override render(): TemplateResult | typeof nothing {
    const { field, applied } = this;
    const current = trial.value;
    const view = this.#view();
    if (field === null || applied === null || current === null || view === null) return nothing;
    const marks = treatmentMarks(current.treatments.map(({ name }) => name));
    return html`
      <p class="field-codes">
        ${[...marks.values()].map(({ code, colour, treatment }) => html`<span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><rect x="1" y="1" width="12" height="12" fill=${colour} fill-opacity=${SWATH_ALPHA} stroke=${colour} /></svg> <b>${code}</b> ${treatment}</span>`)}
        <span><svg class="key" viewBox="0 0 14 14" aria-hidden="true"><path d="M1 13 13 1M1 7 7 1M7 13 13 7" stroke=${STRAY_COLOUR} /></svg> not used</span>
      </p>
      <div class="field-frame is-still" role="img" aria-label=${this.#label(field, applied)}>
        <canvas aria-hidden="true"></canvas>
        <svg class="field-strips" viewBox="0 0 ${view.widthPx} ${view.heightPx}" aria-hidden="true">
          ${applied.leftOut.map((corners) => svg`<path class="not-used" d=${outline(corners, view)}></path>`)}
          ${field.strips.map(({ rings, treatment }) => {
            const place = stripNamePlace(rings[0] ?? [], view);
            const mark = marks.get(treatment);
            return svg`
              <path class="strip-edge" d=${rings.map((ring) => outline(ring, view)).join('')}></path>
              ${place === null ? nothing : svg`<text x=${place[0]} y=${place[1]} fill=${mark?.colour ?? STRAY_COLOUR}>${mark?.code ?? treatment}</text>`}
            `;
          })}
        </svg>
        <span class="north" aria-hidden="true">N ↑</span>
      </div>
    `;
  }

  #label({ strips }: FieldDrawing, { swaths, leftOut }: Applied): string {
    return `${swaths.treatment.length} swaths over ${strips.length} strips; stretches not used: ${leftOut.length}`;
  }

  #view(): FieldView | null {
    const bounds = this.field === null ? null : boundsOf(this.field.strips);
    if (bounds === null || this.widthPx === 0) return null;
    const aspect = (bounds.northM - bounds.southM) / Math.max(bounds.eastM - bounds.westM, 1);
    const most = Math.max(LEAST_HEIGHT_PX, innerHeight * MOST_HEIGHT_SHARE);
    const heightPx = Math.round(Math.min(most, Math.max(LEAST_HEIGHT_PX, this.widthPx * aspect)));
    return fitView(bounds, this.widthPx, heightPx);
  }

  protected override updated(): void {
    const canvas = this.querySelector('canvas');
    const view = this.#view();
    const current = trial.peek();
    if (canvas === null || view === null || this.applied === null || current === null) return;
    const drawn = [canvas, this.applied, view.widthPx, view.heightPx, current.treatments];
    if (drawn.every((part, index) => part === this.#painted[index])) return;
    this.#painted = drawn;
    const colours = [...treatmentMarks(current.treatments.map(({ name }) => name)).values()];
    paintSwaths(canvas, this.applied, view, (treatment) => colours[treatment]?.colour ?? STRAY_COLOUR);
  }
}

function paintSwaths(
  canvas: HTMLCanvasElement,
  { swaths, leftOut }: Applied,
  view: FieldView,
  colourOf: (treatment: number) => string,
): void {
  const ratio = Math.min(devicePixelRatio, 3);
  canvas.width = Math.round(view.widthPx * ratio);
  canvas.height = Math.round(view.heightPx * ratio);
  const context = canvas.getContext('2d');
  if (context === null) return;
  context.scale(ratio, ratio);
  context.globalAlpha = SWATH_ALPHA;
  const { cornersM, first, treatment } = swaths;
  for (let k = 0; k < treatment.length; k++) {
    context.fillStyle = colourOf(treatment[k] ?? -1);
    context.beginPath();
    for (let at = first[k] ?? 0; at < (first[k + 1] ?? 0); at++) {
      const [x, y] = toPx(view, cornersM[2 * at] ?? 0, cornersM[2 * at + 1] ?? 0);
      context.lineTo(x, y);
    }
    context.fill();
  }
  context.globalAlpha = 1;
  for (const corners of leftOut)
    hatch(
      context,
      corners.map(([eastM, northM]) => toPx(view, eastM, northM)),
    );
}

const HATCH_PX = 6;

/** Paled and crossed by falling lines, which print and black and white keep. */
function hatch(context: CanvasRenderingContext2D, corners: readonly (readonly [number, number])[]): void {
  context.save();
  context.beginPath();
  for (const [x, y] of corners) context.lineTo(x, y);
  context.closePath();
  context.clip();
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  context.fillStyle = 'rgb(255 255 255 / 60%)';
  context.fillRect(left, top, right - left, bottom - top);
  context.strokeStyle = STRAY_COLOUR;
  context.beginPath();
  for (let along = left - (bottom - top); along < right; along += HATCH_PX) {
    context.moveTo(along, bottom);
    context.lineTo(along + bottom - top, top);
  }
  context.stroke();
  context.restore();
}

function outline(corners: readonly (readonly [number, number])[], view: FieldView): string {
  const places = corners.map(([eastM, northM]) =>
    toPx(view, eastM, northM)
      .map((px) => px.toFixed(1))
      .join(' '),
  );
  return `M${places.join('L')}Z`;
}

customElements.define('sv-applied-field', AppliedField);
