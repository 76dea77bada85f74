import type { LagAnswer } from '../harvest/estimate-lag.ts';
import { fixed } from '../words/number-formats.ts';
import { checkedWidth, type FigureOptions, isNarrow } from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { notice } from './notice.ts';
import { drawing, element, type Markup, pixels } from './svg-markup.ts';
import { textAt, wrapText } from './text-fitting.ts';

export interface LagCurveOptions extends FigureOptions {
  /** "Flow of harvest.csv". */
  readonly title: string;
  /** By which the trial moves the signal back now. */
  readonly shiftS: number;
}

const EDGE = 10;
const TITLE_SIZE = 14;
const SMALL = 11;
const LINE = 16;
const PLOT_PX = 150;
const TICK_EVERY_S = 5;

interface Layout {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly toX: (lagS: number) => number;
  readonly toY: (disagreement: number) => number;
}

/**
 * How much neighbouring passes disagree for each shift that was tried: the right one makes them agree, so the curve has
 * a trough there. The wash shows the interval, the ring the best shift, the dashed line the shift that is set.
 */
export function lagCurve(answer: LagAnswer, options: LagCurveOptions): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'lag-curve';
  const { title } = options;
  if (answer.curve.length < 2)
    return notice(widthPx, id, title, 'There is no curve: nothing could be compared.');
  const lines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 3, true);
  const keys = legend(legendItems(answer), EDGE, 14 + lines.length * LINE, widthPx - 2 * EDGE);
  const layout = layOut(answer, widthPx, 30 + lines.length * LINE + keys.heightPx);
  return drawing(
    { widthPx, heightPx: layout.bottom + 44, id, title, description: inWords(answer, options.shiftS) },
    ...lines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...interval(layout, answer),
    ...axes(layout, answer, isNarrow(widthPx)),
    curveLine(layout, answer),
    ...shiftLine(layout, answer, options.shiftS),
    ...best(layout, answer),
  );
}

function layOut({ curve }: LagAnswer, widthPx: number, top: number): Layout {
  const lags = curve.map(({ lagS }) => lagS);
  const [first, last] = [Math.min(...lags), Math.max(...lags)];
  const most = Math.max(1, ...curve.map(({ disagreement }) => disagreement));
  const left = EDGE + 62;
  const right = widthPx - EDGE - 12;
  const bottom = top + PLOT_PX;
  return {
    left,
    right,
    top,
    bottom,
    toX: (lagS) => left + ((lagS - first) / (last - first)) * (right - left),
    toY: (disagreement) => bottom - (disagreement / most) * (bottom - top),
  };
}

function axes({ left, right, top, bottom, toX }: Layout, { curve }: LagAnswer, narrow: boolean): Markup[] {
  const ticks = curve.flatMap(({ lagS }) => (lagS % TICK_EVERY_S === 0 ? [lagS] : []));
  return [
    element('line', { x1: left, x2: right, y1: bottom, y2: bottom, stroke: INK.line, 'stroke-width': 1 }),
    ...ticks.flatMap((lagS) => [
      element('line', {
        x1: toX(lagS),
        x2: toX(lagS),
        y1: top,
        y2: bottom + 4,
        stroke: INK.line,
        'stroke-width': 0.6,
        'stroke-dasharray': '1 4',
      }),
      textAt(toX(lagS), bottom + 18, `${lagS}`, { sizePx: SMALL, fill: INK.grey, anchor: 'middle' }),
    ]),
    textAt(left - 8, bottom + 1, 'agree', { sizePx: SMALL, fill: INK.grey, anchor: 'end' }),
    textAt(left - 8, top + 8, 'differ', { sizePx: SMALL, fill: INK.grey, anchor: 'end' }),
    textAt(
      (left + right) / 2,
      bottom + 37,
      narrow ? 'shift back, s' : 'signal shifted back by so many seconds',
      {
        sizePx: SMALL,
        fill: INK.grey,
        anchor: 'middle',
      },
    ),
  ];
}

function curveLine({ toX, toY }: Layout, { curve }: LagAnswer): Markup {
  const points = curve.map(({ lagS, disagreement }) => `${pixels(toX(lagS))} ${pixels(toY(disagreement))}`);
  return element('path', {
    class: 'lag-curve',
    d: `M${points.join('L')}`,
    fill: 'none',
    stroke: INK.black,
    'stroke-width': 1.8,
  });
}

function interval({ toX, top, bottom }: Layout, answer: LagAnswer): Markup[] {
  if (answer.kind !== 'lag') return [];
  const [x, end] = [toX(answer.lowerS), toX(answer.upperS)];
  return [
    element('rect', { class: 'interval', x, y: top, width: end - x, height: bottom - top, fill: INK.faint }),
  ];
}

function best({ toX, toY }: Layout, answer: LagAnswer): Markup[] {
  if (answer.kind !== 'lag') return [];
  const least = Math.min(...answer.curve.map(({ disagreement }) => disagreement));
  return [ring(toX(answer.lagS), toY(least), 'best')];
}

function ring(x: number, y: number, name: string | null): Markup {
  return element('circle', {
    class: name,
    cx: x,
    cy: y,
    r: 5,
    fill: INK.paper,
    stroke: INK.black,
    'stroke-width': 2,
  });
}

function shiftLine({ toX, top, bottom }: Layout, { curve }: LagAnswer, shiftS: number): Markup[] {
  const isInside = shiftS >= (curve[0]?.lagS ?? 0) && shiftS <= (curve.at(-1)?.lagS ?? 0);
  return isInside ? [dashes(toX(shiftS), top, bottom, 'set-shift')] : [];
}

function dashes(x: number, from: number, to: number, name: string | null): Markup {
  return element('line', {
    class: name,
    x1: x,
    x2: x,
    y1: from,
    y2: to,
    stroke: INK.black,
    'stroke-width': 1.3,
    'stroke-dasharray': '6 3',
  });
}

function legendItems({ kind }: LagAnswer): readonly LegendItem[] {
  const set: LegendItem = { label: 'set now', key: (x, y) => dashes(x, y - 8, y + 8, null) };
  if (kind !== 'lag') return [set];
  return [
    { label: 'passes agree best', key: (x, y) => ring(x, y, null) },
    {
      label: 'interval',
      key: (x, y) => element('rect', { x: x - 8, y: y - 7, width: 16, height: 14, fill: INK.faint }),
    },
    set,
  ];
}

function inWords(answer: LagAnswer, shiftS: number): string {
  const found =
    answer.kind === 'lag'
      ? `Neighbouring passes agree best at ${fixed(answer.lagS, 1)} s, interval ${fixed(answer.lowerS, 1)} to ${fixed(answer.upperS, 1)} s.`
      : 'No shift stands out.';
  return `${found} Set now: ${shiftS} s. From ${answer.pairs} pairs of passes.`;
}
