import type { EnoughReplicates } from '../planning/enough-replicates.ts';
import { fixed, percentOf, significant } from '../words/number-formats.ts';
import { checkedWidth, type FigureOptions, isNarrow } from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { textAt, textWidthPx, wrapText } from './text-fitting.ts';

const EDGE = 10;
const TITLE_SIZE = 14;
const SMALL = 11;
const LINE = 16;
const PLOT_PX = 230;
/** Each at most 2.5 times the one before: equal steps on the axis are equal ratios. */
const ROUND_PERCENTS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];

interface Layout {
  readonly answer: EnoughReplicates;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly ticks: readonly number[];
  readonly toX: (blocks: number) => number;
  readonly toY: (percent: number) => number;
}

/**
 * The difference that a plan finds with the chance asked for, over 2 to 12 blocks, beside the difference worth having.
 * Filled marks lie at or below it: so many blocks are enough. The upright line marks the plan. The axis of differences
 * is logarithmic, since two blocks may need ten times what twelve need.
 */
export function detectableCurve(answer: EnoughReplicates, options: FigureOptions): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'detectable-curve';
  const { plan } = answer;
  const things = plan.design === 'completelyRandomized' ? 'strips of each treatment' : 'blocks';
  const title = `Smallest difference found in ${percentOf(plan.power)} of trials, by number of ${things}`;
  const titleLines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 3, true);
  const keys = legend(legendItems(), EDGE, 22 + titleLines.length * LINE - 8, widthPx - 2 * EDGE);
  const layout = layOut(answer, widthPx, 22 + titleLines.length * LINE + keys.heightPx + 14);
  const heightPx = layout.bottom + 44;
  return drawing(
    { widthPx, heightPx, id, title, description: inWords(answer, things) },
    ...titleLines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...axes(layout),
    ...worthHaving(layout),
    ...planned(layout),
    curveLine(layout),
    ...answer.curve.map((at) => mark(layout, at, isNarrow(widthPx))),
    textAt((layout.left + layout.right) / 2, layout.bottom + 37, things, {
      sizePx: SMALL,
      fill: INK.grey,
      anchor: 'middle',
    }),
  );
}

function layOut(answer: EnoughReplicates, widthPx: number, top: number): Layout {
  const { curve, plan } = answer;
  const values = [...curve.map(({ detectablePercent }) => detectablePercent), plan.differencePercent];
  const low = Math.min(...values) / 1.35;
  const high = Math.max(...values) * 1.35;
  const left = EDGE + 44;
  const right = widthPx - EDGE - 14;
  const bottom = top + PLOT_PX;
  const first = curve[0]?.blocks ?? 2;
  const last = curve.at(-1)?.blocks ?? first + 1;
  const share = (percent: number) => Math.log(percent / low) / Math.log(high / low);
  return {
    answer,
    left,
    right,
    top,
    bottom,
    ticks: ROUND_PERCENTS.filter((percent) => percent >= low && percent <= high),
    toX: (blocks) => left + 18 + ((blocks - first) / (last - first)) * (right - left - 36),
    toY: (percent) => bottom - share(percent) * (bottom - top),
  };
}

function axes({ left, right, bottom, ticks, toX, toY, answer }: Layout): readonly Markup[] {
  return [
    ...ticks.flatMap((percent) => [
      element('line', {
        x1: left,
        x2: right,
        y1: toY(percent),
        y2: toY(percent),
        stroke: INK.line,
        'stroke-width': 0.6,
        'stroke-dasharray': '1 4',
      }),
      textAt(left - 6, toY(percent) + 4, `${percent} %`, { sizePx: SMALL, fill: INK.grey, anchor: 'end' }),
    ]),
    element('line', { x1: left, x2: right, y1: bottom, y2: bottom, stroke: INK.line, 'stroke-width': 1 }),
    ...answer.curve.map(({ blocks }) =>
      textAt(toX(blocks), bottom + 18, String(blocks), {
        sizePx: SMALL,
        fill: INK.black,
        anchor: 'middle',
        bold: blocks === answer.plan.blocks,
      }),
    ),
  ];
}

/** What is worth having, as a line right across; what lies on its wash can be found. */
function worthHaving({ answer, left, right, bottom, toY }: Layout): readonly Markup[] {
  const y = toY(answer.plan.differencePercent);
  return [
    element('rect', { x: left, y, width: right - left, height: bottom - y, fill: INK.wash }),
    element('line', {
      class: 'worth-having',
      x1: left,
      x2: right,
      y1: y,
      y2: y,
      stroke: INK.black,
      'stroke-width': 1.4,
      'stroke-dasharray': '7 3',
    }),
  ];
}

function planned({ answer, top, bottom, toX }: Layout): readonly Markup[] {
  const { blocks } = answer.plan;
  if (!answer.curve.some((at) => at.blocks === blocks)) return [];
  return [
    element('line', {
      class: 'plan',
      x1: toX(blocks),
      x2: toX(blocks),
      y1: top,
      y2: bottom,
      stroke: INK.black,
      'stroke-width': 1,
    }),
  ];
}

function curveLine({ answer, toX, toY }: Layout): Markup {
  const points = answer.curve.map(
    ({ blocks, detectablePercent }) => `${pixels(toX(blocks))} ${pixels(toY(detectablePercent))}`,
  );
  return element('path', { d: `M${points.join('L')}`, fill: 'none', stroke: INK.grey, 'stroke-width': 1.2 });
}

type CurvePoint = EnoughReplicates['curve'][number];

function mark({ answer, toX, toY }: Layout, at: CurvePoint, narrow: boolean): Markup {
  const [x, y] = [toX(at.blocks), toY(at.detectablePercent)];
  const isEnough = at.detectablePercent <= answer.plan.differencePercent;
  const label = shortPercent(at.detectablePercent);
  const isPlan = at.blocks === answer.plan.blocks;
  const shift = isPlan ? 6 + textWidthPx(label, SMALL, true) / 2 : 3;
  return element(
    'g',
    { class: 'at-blocks' },
    element('title', {}, textNode(`${at.blocks}: ${label} %`)),
    dot(x, y, isEnough, narrow ? 4 : 5),
    textAt(x + shift, y - 10, label, {
      sizePx: SMALL,
      fill: INK.black,
      bold: isPlan,
      anchor: 'middle',
    }),
  );
}

function dot(x: number, y: number, isFilled: boolean, radius: number): Markup {
  return element('circle', {
    cx: x,
    cy: y,
    r: radius,
    fill: isFilled ? INK.black : INK.paper,
    stroke: INK.black,
    'stroke-width': 1.6,
  });
}

function legendItems(): readonly LegendItem[] {
  return [
    { label: 'too few', key: (x, y) => dot(x, y, false, 5) },
    { label: 'enough', key: (x, y) => dot(x, y, true, 5) },
    { label: 'worth having', key: (x, y) => stroke(x - 9, y, x + 9, y, '7 3') },
    { label: 'this plan', key: (x, y) => stroke(x, y - 7, x, y + 7, null) },
  ];
}

function stroke(x1: number, y1: number, x2: number, y2: number, dashes: string | null): Markup {
  return element('line', {
    x1,
    y1,
    x2,
    y2,
    stroke: INK.black,
    'stroke-width': 1.4,
    'stroke-dasharray': dashes,
  });
}

function shortPercent(percent: number): string {
  return percent >= 10 ? fixed(percent, 0) : significant(percent, 2);
}

function inWords({ curve, plan }: EnoughReplicates, things: string): string {
  const steps = curve.map(
    ({ blocks, detectablePercent }) => `${blocks}: ${shortPercent(detectablePercent)} %`,
  );
  return `By number of ${things}: ${steps.join(', ')}. Worth having: ${plan.differencePercent} %. Planned: ${plan.blocks}.`;
}
