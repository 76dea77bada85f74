import type { ReportModel, ReportResponse } from '../findings/report-model.ts';
import { decimalsFor, fixed, withUnit } from '../words/number-formats.ts';
import { type BlockRun, type FieldOrder, fieldOrder, type PlacedStrip } from './field-order.ts';
import {
  capitalised,
  checkedWidth,
  type FigureOptions,
  isNarrow,
  responseHeading,
  responseNamed,
} from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { notice } from './notice.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { fitText, textAt, textWidthPx, wrapText } from './text-fitting.ts';
import {
  codeAndName,
  markShape,
  type TreatmentMark,
  type TreatmentMarks,
  treatmentMarks,
  treatmentsOf,
} from './treatment-marks.ts';
import { type ValueScale, valueScale } from './value-scale.ts';

export interface FieldOrderOptions extends FigureOptions {
  /** Height of the values' scale alone; by default in proportion to the width. */
  readonly plotHeightPx?: number;
}

const MOST_STRIPS = 400;
const EDGE = 10;
const TITLE_SIZE = 14;
const SMALL = 11;
const LINE = 16;

interface Layout {
  readonly order: FieldOrder;
  readonly marks: TreatmentMarks;
  readonly scale: ValueScale;
  readonly left: number;
  readonly top: number;
  readonly bottom: number;
  readonly laneWidth: number;
  readonly radius: number;
  readonly decimals: number;
  readonly response: ReportResponse;
}

/**
 * Each strip's value of one response at its place across the field, as the strips lie: lanes from left to right,
 * treatments by mark, colour and code, blocks bracketed beneath with their means drawn through. A strip that the
 * answer does not use is hollow and crossed; a strip without a value shows its lane and no mark.
 */
export function stripsInFieldOrder(
  report: ReportModel,
  responseName: string,
  options: FieldOrderOptions,
): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'strips-in-field-order';
  const response = responseNamed(report, responseName);
  const order = fieldOrder(report, responseName);
  const title = `${capitalised(responseHeading(response))}: strip by strip across the field`;
  const values = order.strips.flatMap((placed) => placed.value ?? []);
  if (order.strips.length === 0) return notice(widthPx, id, title, 'There are no strips to draw.');
  if (values.length === 0) return notice(widthPx, id, title, 'No strip has a value of this response.');
  if (order.strips.length > MOST_STRIPS) {
    return notice(
      widthPx,
      id,
      title,
      `${order.strips.length} strips are too many to draw one by one; the table of strips holds them all.`,
    );
  }
  return drawOrder(report, response, order, values, { ...options, id }, title);
}

function drawOrder(
  report: ReportModel,
  response: ReportResponse,
  order: FieldOrder,
  values: readonly number[],
  options: FieldOrderOptions & { readonly id: string },
  title: string,
): string {
  const { widthPx, id } = options;
  const marks = treatmentMarks(treatmentsOf(report));
  const titleLines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 2, true);
  const keys = legend(legendItems(order, marks), EDGE, 14 + titleLines.length * LINE, widthPx - 2 * EDGE);
  const top = 22 + titleLines.length * LINE + keys.heightPx;
  const plotHeight =
    options.plotHeightPx ?? (isNarrow(widthPx) ? 230 : Math.min(380, Math.max(250, widthPx * 0.3)));
  const bottom = top + plotHeight;
  const scale = valueScale(values, bottom - 8, top + 8, isNarrow(widthPx) ? 5 : 6);
  const left =
    EDGE + 8 + Math.max(...scale.ticks.map((tick) => textWidthPx(fixed(tick, scale.decimals), SMALL)));
  const laneWidth = (widthPx - EDGE - left) / order.slots;
  const layout: Layout = {
    order,
    marks,
    scale,
    left,
    top,
    bottom,
    laneWidth,
    radius: Math.min(6, Math.max(2.2, laneWidth * 0.36)),
    decimals: decimalsFor(response.standardErrorOfMean, response.grandMean ?? values[0] ?? null),
    response,
  };
  const beneath = stripRows(layout, bottom + 4);
  const brackets = blockBrackets(layout, bottom + 4 + beneath.heightPx);
  const foot = footLines(order, widthPx);
  const footTop = bottom + 4 + beneath.heightPx + brackets.heightPx + 14;
  return drawing(
    { widthPx, heightPx: footTop + foot.length * LINE - 8, id, title, description: inWords(layout) },
    ...titleLines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...lanes(layout),
    ...valueAxis(layout, widthPx),
    ...order.runs.flatMap((run) => blockMean(layout, run)),
    ...order.strips.map((placed) => stripMark(layout, placed)),
    ...beneath.parts,
    ...brackets.parts,
    ...foot.map((line, index) =>
      textAt(EDGE, footTop + index * LINE, line, { sizePx: SMALL, fill: INK.grey }),
    ),
  );
}

function legendItems(order: FieldOrder, marks: TreatmentMarks): readonly LegendItem[] {
  const shown = new Set(order.strips.map((placed) => placed.strip.treatment));
  const items: LegendItem[] = [...marks.values()]
    .filter((mark) => shown.has(mark.treatment))
    .map((mark) => ({
      label: codeAndName(mark),
      key: (x, y) => markShape(mark, x, y, 5.5),
    }));
  if (order.runs.some((run) => run.mean !== null)) {
    items.push({
      label: 'block mean',
      key: (x, y) =>
        element('line', { x1: x - 8, x2: x + 8, y1: y, y2: y, stroke: INK.black, 'stroke-width': 1.4 }),
    });
  }
  const unused = order.strips.find((placed) => !placed.strip.used && placed.value !== null);
  const mark = unused === undefined ? undefined : marks.get(unused.strip.treatment);
  if (mark !== undefined) {
    items.push({ label: 'not used', key: (x, y) => element('g', {}, ...crossedMark(mark, x, y, 5.5)) });
  }
  return items;
}

function laneLeft(layout: Layout, slot: number): number {
  return layout.left + slot * layout.laneWidth;
}

function laneMiddle(layout: Layout, slot: number): number {
  return laneLeft(layout, slot) + layout.laneWidth / 2;
}

/** Blocks alternate between paper and wash; each strip is a lane, ruled as strips are in the field. */
function lanes(layout: Layout): readonly Markup[] {
  const { top, bottom, laneWidth, order } = layout;
  const bands = order.runs
    .filter((_, index) => index % 2 === 0)
    .map((run) =>
      element('rect', {
        x: laneLeft(layout, run.firstSlot),
        y: top,
        width: (run.lastSlot - run.firstSlot + 1) * laneWidth,
        height: bottom - top,
        fill: INK.wash,
      }),
    );
  const rules = order.strips.map(({ slot }) => {
    const x = laneMiddle(layout, slot);
    return element('line', { x1: x, x2: x, y1: top, y2: bottom, stroke: INK.faint, 'stroke-width': 1 });
  });
  return [...bands, ...rules];
}

function valueAxis(layout: Layout, widthPx: number): readonly Markup[] {
  const { scale, left } = layout;
  return scale.ticks.flatMap((tick) => {
    const y = scale.toPx(tick);
    return [
      element('line', {
        x1: left,
        x2: widthPx - EDGE,
        y1: y,
        y2: y,
        stroke: INK.line,
        'stroke-width': 0.6,
        'stroke-dasharray': '1 4',
      }),
      textAt(left - 5, y + 4, fixed(tick, scale.decimals), { sizePx: SMALL, fill: INK.grey, anchor: 'end' }),
    ];
  });
}

function blockMean(layout: Layout, run: BlockRun): readonly Markup[] {
  if (run.mean === null) return [];
  const y = layout.scale.toPx(run.mean);
  return [
    element('line', {
      x1: laneLeft(layout, run.firstSlot) + 2,
      x2: laneLeft(layout, run.lastSlot + 1) - 2,
      y1: y,
      y2: y,
      stroke: INK.black,
      'stroke-width': 1.4,
    }),
  ];
}

function stripMark(layout: Layout, placed: PlacedStrip): Markup {
  const { strip, value, slot } = placed;
  const mark = layout.marks.get(strip.treatment);
  const x = laneMiddle(layout, slot);
  const about = element('title', {}, textNode(stripWords(layout, placed)));
  if (value === null || mark === undefined) {
    const lane = element('rect', {
      x: laneLeft(layout, slot),
      y: layout.top,
      width: layout.laneWidth,
      height: layout.bottom - layout.top,
      fill: INK.paper,
      'fill-opacity': 0,
    });
    return element('g', { class: 'strip strip-without-value', 'data-strip': strip.strip }, about, lane);
  }
  const y = layout.scale.toPx(value);
  const shapes = strip.used ? [markShape(mark, x, y, layout.radius)] : crossedMark(mark, x, y, layout.radius);
  return element('g', { class: 'strip', 'data-strip': strip.strip }, about, ...shapes);
}

function crossedMark(mark: TreatmentMark, x: number, y: number, radius: number): readonly Markup[] {
  const arm = radius * 1.5;
  const path = `M${pixels(x - arm)} ${pixels(y - arm)}L${pixels(x + arm)} ${pixels(y + arm)}M${pixels(x - arm)} ${pixels(y + arm)}L${pixels(x + arm)} ${pixels(y - arm)}`;
  return [
    markShape(mark, x, y, radius, true),
    element('path', { d: path, fill: 'none', stroke: INK.black, 'stroke-width': 1 }),
  ];
}

function stripWords(layout: Layout, { strip, value }: PlacedStrip): string {
  const where = strip.block === null ? '' : `, block ${strip.block}`;
  const what = value === null ? 'no value' : withUnit(fixed(value, layout.decimals), layout.response.unit);
  const why = strip.used ? '' : `; not used: ${strip.whyNotUsed ?? 'no reason given'}`;
  return `Strip ${strip.strip}${where}: ${strip.treatment}, ${what}${why}`;
}

interface Rows {
  readonly parts: readonly Markup[];
  readonly heightPx: number;
}

/** Under each lane its treatment's code and, where they fit, strip and value: the field plan in one line. */
function stripRows(layout: Layout, y: number): Rows {
  const { order, marks, laneWidth, decimals } = layout;
  const codes = order.strips.map((placed) => marks.get(placed.strip.treatment)?.code ?? '');
  const values = order.strips.map(({ value }) => (value === null ? 'none' : fixed(value, decimals)));
  const rows = [
    { texts: codes, bold: true, coloured: true },
    { texts: values, bold: false, coloured: false },
  ].filter(({ texts, bold }) => texts.every((text) => textWidthPx(text, SMALL, bold) <= laneWidth - 1));
  const parts = rows.flatMap(({ texts, bold, coloured }, row) =>
    order.strips.map((placed, index) =>
      textAt(laneMiddle(layout, placed.slot), y + 11 + row * 15, texts[index] ?? '', {
        sizePx: SMALL,
        bold,
        anchor: 'middle',
        fill: coloured ? (marks.get(placed.strip.treatment)?.colour ?? INK.black) : INK.grey,
      }),
    ),
  );
  return { parts, heightPx: rows.length * 15 };
}

/** A bracket a block, its name and mean beneath; names that do not fit their bracket are cut, then left out. */
function blockBrackets(layout: Layout, y: number): Rows {
  if (layout.order.runs.length === 0) return { parts: [], heightPx: 0 };
  const parts = layout.order.runs.flatMap((run) => {
    const from = laneLeft(layout, run.firstSlot) + 2;
    const to = laneLeft(layout, run.lastSlot + 1) - 2;
    const path = `M${pixels(from)} ${pixels(y + 3)}V${pixels(y + 8)}H${pixels(to)}V${pixels(y + 3)}`;
    const middle = (from + to) / 2;
    const name = fitText(blockName(run.block, to - from), to - from, SMALL);
    const mean = run.mean === null ? '' : fixed(run.mean, layout.decimals);
    return [
      element('path', { d: path, fill: 'none', stroke: INK.line, 'stroke-width': 1 }),
      textAt(middle, y + 21, name, { sizePx: SMALL, fill: INK.black, anchor: 'middle' }),
      textAt(middle, y + 35, fitText(mean, to - from, SMALL), {
        sizePx: SMALL,
        fill: INK.grey,
        anchor: 'middle',
      }),
    ];
  });
  return { parts, heightPx: 40 };
}

/** "Block 2" where the name is a bare number or letter and there is room. */
function blockName(block: string, roomPx: number): string {
  const full = /^block/i.test(block) ? block : `Block ${block}`;
  return textWidthPx(full, SMALL) <= roomPx ? full : block;
}

function footLines(order: FieldOrder, widthPx: number): readonly string[] {
  const across = order.asTheyLie
    ? 'Strips from one edge of the field to the other'
    : 'Places across the field are not known: strips stand in the order of the report';
  const means = order.runs.some((run) => run.mean !== null) ? '; under each block its mean.' : '.';
  return wrapText(across + means, widthPx - 2 * EDGE, SMALL, 3);
}

function inWords(layout: Layout): string {
  const unused = layout.order.strips.filter((placed) => !placed.strip.used).length;
  const blocks = new Set(layout.order.runs.map((run) => run.block)).size;
  const where = blocks === 0 ? 'without blocks' : `in ${blocks} ${blocks === 1 ? 'block' : 'blocks'}`;
  const left = unused === 0 ? '' : ` ${unused} not used in the answer.`;
  const each = layout.order.strips.map((placed) => stripWords(layout, placed)).join('. ');
  return `${layout.order.strips.length} strips ${where}.${left} ${each}.`;
}
