import type { PlacedPoints } from '../../harvest/strip-values.ts';
import { inTurn } from '../state/turns.ts';
import type { FieldView } from './field-view.ts';
import { type PaintSome, type Shown, startPainting } from './point-raster.ts';

/** What is to be seen. */
export interface FieldSight {
  readonly points: PlacedPoints | null;
  readonly view: FieldView;
  readonly showSetAside: boolean;
  readonly shown: Shown;
}

interface PaintedBitmap {
  readonly sight: FieldSight;
  readonly canvas: HTMLCanvasElement;
}

/** A moving field is drawn anew once it has rested so long; until then the drawn picture moves. */
const REST_MS = 140;
/** More points than these are painted anew only when the view rests. */
const FEW_POINTS = 100_000;
/** How long points are painted in one go, so that the page answers in between, and how many between looks at the clock. */
const TURN_MS = 10;
const POINTS_A_LOOK = 10_000;
const ROWS_PUT_A_TURN = 128;

/**
 * Paints the points of a field onto a canvas. While the view moves, the picture that is there moves with it; at rest
 * it is painted anew, a part at a time.
 */
export class FieldPainter {
  readonly #canvas: HTMLCanvasElement;
  #painted: PaintedBitmap | null = null;
  #wanted: FieldSight | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
  }

  get canvas(): HTMLCanvasElement {
    return this.#canvas;
  }

  show(sight: FieldSight): void {
    if (this.#wanted !== null && isSame(this.#wanted, sight)) return;
    this.#wanted = sight;
    clearTimeout(this.#timer);
    const painted = this.#painted;
    const hasMoved = painted !== null && sight.points !== null && sight.points === painted.sight.points;
    if (hasMoved) this.#drawMoved(painted, sight.view);
    if (hasMoved && sight.points.reason.length > FEW_POINTS) {
      this.#timer = setTimeout(() => this.#paint(sight), REST_MS);
    } else this.#paint(sight);
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#wanted = null;
  }

  #paint(sight: FieldSight): void {
    const ratio = pixelRatio();
    const canvas = document.createElement('canvas');
    sizeTo(canvas, sight.view, ratio);
    const context = canvas.getContext('2d');
    if (context === null) return;
    const { points, view, showSetAside, shown } = sight;
    if (points === null) {
      this.#take({ sight, canvas });
      return;
    }
    const image = context.createImageData(canvas.width, canvas.height);
    const raster = {
      words: new Uint32Array(image.data.buffer),
      widthPx: canvas.width,
      heightPx: canvas.height,
    };
    const start = () => startPainting(raster, points, view, ratio, showSetAside, shown);
    void this.#paintInTurns(sight, start).then(async (isWhole) => {
      if (!isWhole) return;
      await this.#putInTurns(context, image);
      await inTurn(() => {
        if (this.#wanted === sight) this.#take({ sight, canvas });
      });
    });
  }

  /** false: something else is to be seen by now. */
  async #paintInTurns(sight: FieldSight, start: () => PaintSome): Promise<boolean> {
    let paintSome: PaintSome | null = null;
    let isWhole = false;
    while (!isWhole) {
      await inTurn(() => {
        if (this.#wanted !== sight) return;
        const end = performance.now() + TURN_MS;
        paintSome ??= start();
        do isWhole = paintSome(POINTS_A_LOOK);
        while (!isWhole && performance.now() < end);
      });
      if (this.#wanted !== sight) return false;
    }
    return true;
  }

  async #putInTurns(context: CanvasRenderingContext2D, image: ImageData): Promise<void> {
    for (let top = 0; top < image.height; top += ROWS_PUT_A_TURN) {
      await inTurn(() => context.putImageData(image, 0, 0, 0, top, image.width, ROWS_PUT_A_TURN));
    }
  }

  #take(painted: PaintedBitmap): void {
    this.#painted = painted;
    sizeTo(this.#canvas, painted.sight.view, pixelRatio());
    this.#canvas.getContext('2d')?.drawImage(painted.canvas, 0, 0);
  }

  /** The picture painted for another view, laid where its ground lies now. */
  #drawMoved({ sight: { view: before }, canvas }: PaintedBitmap, view: FieldView): void {
    const ratio = pixelRatio();
    sizeTo(this.#canvas, view, ratio);
    const context = this.#canvas.getContext('2d');
    if (context === null) return;
    const scale = view.pxPerM / before.pxPerM;
    const west = before.centreEastM - before.widthPx / 2 / before.pxPerM;
    const north = before.centreNorthM + before.heightPx / 2 / before.pxPerM;
    const left = view.widthPx / 2 + (west - view.centreEastM) * view.pxPerM;
    const top = view.heightPx / 2 - (north - view.centreNorthM) * view.pxPerM;
    context.imageSmoothingEnabled = false;
    context.drawImage(canvas, left * ratio, top * ratio, canvas.width * scale, canvas.height * scale);
  }
}

function isSame(a: FieldSight, b: FieldSight): boolean {
  return (
    a.points === b.points && a.view === b.view && a.showSetAside === b.showSetAside && a.shown === b.shown
  );
}

function pixelRatio(): number {
  return Math.min(devicePixelRatio, 3);
}

/** Also clears it. */
function sizeTo(canvas: HTMLCanvasElement, view: FieldView, ratio: number): void {
  canvas.width = Math.round(view.widthPx * ratio);
  canvas.height = Math.round(view.heightPx * ratio);
}
