import { fixed, signed, withUnit } from '../words/number-formats.ts';
import { checkedWidth, type FigureOptions } from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { fitText, textAt, wrapText } from './text-fitting.ts';
import { type ValueScale, valueScale } from './value-scale.ts';

/** One comparison under one cleaning. */
export interface CleanedDifference {
  readonly estimate: number;
  readonly differenceHolds: boolean;
  readonly moneyHolds: boolean;
}

export interface CleanedComparison {
  readonly label: string;
  /** "Real. Pays" under the trial's own cleaning. */
  readonly verdicts: string;
  readonly own: number;
  readonly under: readonly CleanedDifference[];
}

const EDGE = 10;
const TITLE_SIZE = 14;
const SIZE = 12;
const SMALL = 11;
const LINE = 16;
const HEAD_PX = 20;
const CLOUD_PX = 34;
const ROW_PX = HEAD_PX + CLOUD_PX + 10;
/** Dots of a row lie on so many lines, in the order of the cleanings, so that they do not hide each other. */
const LANES = 9;

/**
 * Each comparison's difference under every cleaning, one dot each: small and filled where both verdicts stay as they
 * are, an open ring where the verdict on the difference is another, a cross where money alone is. The upright line is
 * the trial's own cleaning.
 */
export function cleaningPicture(
  comparisons: readonly CleanedComparison[],
  unit: string | null,
  options: FigureOptions,
): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'cleaning-picture';
  const title = `Difference${unit === null ? '' : `, ${unit}`}, under every cleaning`;
  const lines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 2, true);
  const keys = legend(legendItems(), EDGE, 14 + lines.length * LINE, widthPx - 2 * EDGE);
  const top = 26 + lines.length * LINE + keys.heightPx;
  const bottom = top + comparisons.length * ROW_PX;
  const values = [0, ...comparisons.flatMap(({ own, under }) => [own, ...under.map((one) => one.estimate)])];
  const scale = valueScale(values, EDGE + 8, widthPx - EDGE - 22, widthPx < 500 ? 4 : 8);
  return drawing(
    { widthPx, heightPx: bottom + 30, id, title, description: inWords(comparisons, unit) },
    ...lines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...axis(scale, top, bottom),
    ...comparisons.map((one, index) => row(one, scale, top + index * ROW_PX, widthPx)),
  );
}

function axis(scale: ValueScale, top: number, bottom: number): Markup[] {
  return scale.ticks.flatMap((tick) => {
    const isZero = Math.abs(tick) < 1e-12;
    return [
      element('line', {
        x1: scale.toPx(tick),
        x2: scale.toPx(tick),
        y1: top,
        y2: bottom + 4,
        stroke: isZero ? INK.black : INK.line,
        'stroke-width': isZero ? 1.2 : 0.6,
        'stroke-dasharray': isZero ? null : '1 4',
      }),
      textAt(scale.toPx(tick), bottom + 18, signed(tick, scale.decimals), {
        sizePx: SMALL,
        fill: INK.grey,
        anchor: 'middle',
      }),
    ];
  });
}

function row(comparison: CleanedComparison, scale: ValueScale, top: number, widthPx: number): Markup {
  const { label, verdicts, own, under } = comparison;
  const words = fitText(`${label}: ${verdicts}`, widthPx - 2 * EDGE, SIZE);
  return element(
    'g',
    { class: 'cleaned' },
    element('title', {}, textNode(rowWords(comparison))),
    element('rect', { x: EDGE, y: top, width: widthPx - 2 * EDGE, height: HEAD_PX - 2, fill: INK.paper }),
    textAt(EDGE, top + 14, words, { sizePx: SIZE, fill: INK.black }),
    ...under.map((one, index) => {
      const lane = (index * 4) % LANES;
      return mark(one, scale.toPx(one.estimate), top + HEAD_PX + 3 + (lane * (CLOUD_PX - 6)) / (LANES - 1));
    }),
    ...ownLine(scale.toPx(own), top + HEAD_PX),
  );
}

/** Through the cloud, with a rim of paper so that dots do not swallow it. */
function ownLine(x: number, top: number): Markup[] {
  const line = (name: string | null, stroke: string, width: number) =>
    element('line', {
      class: name,
      x1: x,
      x2: x,
      y1: top - 2,
      y2: top + CLOUD_PX + 4,
      stroke,
      'stroke-width': width,
    });
  return [line(null, INK.paper, 5), line('own', INK.black, 2.2)];
}

function mark({ differenceHolds, moneyHolds }: CleanedDifference, x: number, y: number): Markup {
  if (!differenceHolds) return ring(x, y);
  return moneyHolds ? dot(x, y) : cross(x, y);
}

function dot(x: number, y: number): Markup {
  return element('circle', { class: 'holds', cx: x, cy: y, r: 2, fill: INK.line });
}

function ring(x: number, y: number): Markup {
  return element('circle', {
    class: 'difference-flips',
    cx: x,
    cy: y,
    r: 4,
    fill: INK.paper,
    stroke: INK.black,
    'stroke-width': 1.8,
  });
}

function cross(x: number, y: number): Markup {
  const [left, right, up, down] = [x - 3.5, x + 3.5, y - 3.5, y + 3.5].map(pixels);
  return element('path', {
    class: 'money-flips',
    d: `M${left} ${up}L${right} ${down}M${left} ${down}L${right} ${up}`,
    stroke: INK.black,
    'stroke-width': 1.8,
    fill: 'none',
  });
}

function legendItems(): readonly LegendItem[] {
  return [
    { label: 'verdicts hold', key: dot },
    { label: 'difference reads otherwise', key: ring },
    { label: 'money reads otherwise', key: cross },
    {
      label: 'own cleaning',
      key: (x, y) =>
        element('line', { x1: x, x2: x, y1: y - 7, y2: y + 7, stroke: INK.black, 'stroke-width': 2.4 }),
    },
  ];
}

function rowWords({ label, verdicts, own, under }: CleanedComparison): string {
  const estimates = under.map(({ estimate }) => estimate);
  const flips = under.filter((one) => !one.differenceHolds || !one.moneyHolds).length;
  const decimals = 3;
  return `${label}: ${verdicts}. Own cleaning ${fixed(own, decimals)}, from ${fixed(Math.min(own, ...estimates), decimals)} to ${fixed(Math.max(own, ...estimates), decimals)}; ${flips} of ${under.length} read otherwise`;
}

function inWords(comparisons: readonly CleanedComparison[], unit: string | null): string {
  const rows = comparisons.map(rowWords).join('. ');
  return unit === null ? `${rows}.` : `${withUnit('Differences in', unit)}. ${rows}.`;
}
