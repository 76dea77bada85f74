import type { ReportAnswer, ReportModel, ReportResponse } from '../findings/report-model.ts';
import { decimalsFor, levelPercent, signed, signedBound, withUnit } from '../words/number-formats.ts';
import { NUMBERS_ONLY } from '../words/verdict-glossary.ts';
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
import { procedureName } from './procedure-names.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { fitText, textAt, textWidthPx, wrapText } from './text-fitting.ts';
import { type TreatmentMarks, treatmentMarks, treatmentsOf } from './treatment-marks.ts';
import { type ValueScale, valueScale } from './value-scale.ts';

export interface DifferencesOptions extends FigureOptions {
  /** Beyond this many the rest is counted in a line; 40 by default. */
  readonly mostRows?: number;
  /** One line a row, names and verdicts without the numbers: for a printed page that gives them elsewhere. */
  readonly oneLine?: boolean;
}

interface Row {
  readonly answer: ReportAnswer;
  readonly breakEven: number | null;
}

interface Layout {
  readonly rows: readonly Row[];
  readonly response: ReportResponse;
  readonly scale: ValueScale;
  readonly narrow: boolean;
  /** One a row where each row is one line; null otherwise. */
  readonly labels: readonly string[] | null;
  readonly widthPx: number;
  readonly plotLeft: number;
  readonly plotRight: number;
  readonly top: number;
  readonly rowHeight: number;
  readonly decimals: number;
}

const EDGE = 10;
const TITLE_SIZE = 14;
const SIZE = 12;
const SMALL = 11;
const LINE = 16;
const BREAK_EVEN_COLOUR = '#1b5a8c';

/**
 * Every comparison that matters, one row each: the estimate with the deciding procedure's interval, the line of no
 * difference, the difference at which the treatment earns what it costs (its own for each comparison) and the
 * margin within which two treatments count as the same. Both verdicts stand beside it in words.
 */
export function differencesAgainstBreakEven(
  report: ReportModel,
  responseName: string,
  options: DifferencesOptions,
): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'differences-against-break-even';
  const response = responseNamed(report, responseName);
  const shown = response.answers.slice(0, options.mostRows ?? 40);
  const rows = shown.map((answer) => ({ answer, breakEven: breakEvenOf(response, answer) }));
  const check = commonCheck(rows);
  const differences = check === null ? 'differences' : `difference from ${check}`;
  const title = `${capitalised(responseHeading(response))}: ${differences}, and what it takes to pay`;
  if (response.answers.length === 0) {
    const why = response.refusal?.message ?? 'No comparison could be made.';
    return notice(widthPx, id, title, why);
  }
  return drawRows(report, response, rows, { ...options, id }, title);
}

function breakEvenOf(response: ReportResponse, { a, b }: ReportAnswer): number | null {
  const row = response.economics.find((candidate) => candidate.a === a && candidate.b === b);
  if (row !== undefined) return row.breakEven;
  const turned = response.economics.find((candidate) => candidate.a === b && candidate.b === a);
  return turned === undefined || turned.breakEven === null ? null : -turned.breakEven;
}

function drawRows(
  report: ReportModel,
  response: ReportResponse,
  rows: readonly Row[],
  options: DifferencesOptions & { readonly id: string },
  title: string,
): string {
  const { widthPx, id, oneLine = false } = options;
  const narrow = isNarrow(widthPx) && !oneLine;
  const titleLines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 2, true);
  const keys = legend(
    legendItems(rows, payingSide(response)),
    EDGE,
    14 + titleLines.length * LINE,
    widthPx - 2 * EDGE,
  );
  const top = 24 + titleLines.length * LINE + keys.heightPx;
  const oneLineRoom = widthPx * 0.38;
  const labels = oneLine ? oneLineLabels(rows, treatmentMarks(treatmentsOf(report)), oneLineRoom) : null;
  const room =
    labels === null
      ? labelWidth(rows, widthPx)
      : Math.min(oneLineRoom, Math.max(...labels.map((label) => textWidthPx(label, SMALL))));
  const plotLeft = narrow ? EDGE + 6 : EDGE + room + 16;
  const plotRight = narrow ? widthPx - EDGE - 6 : widthPx - EDGE - verdictRoom(rows, widthPx, oneLine) - 12;
  const layout: Layout = {
    rows,
    response,
    scale: valueScale(valuesOf(rows), plotLeft, plotRight, narrow ? 5 : 6),
    narrow,
    widthPx,
    plotLeft,
    plotRight,
    top,
    labels,
    rowHeight: rowHeight(narrow, oneLine),
    decimals: decimalsFor(response.standardErrorOfDifference, response.grandMean),
  };
  const bottom = top + rows.length * layout.rowHeight;
  const foot = footLines(layout, response.answers.length - rows.length);
  const footTop = bottom + 36;
  return drawing(
    { widthPx, heightPx: footTop + foot.length * LINE - 8, id, title, description: inWords(layout) },
    ...titleLines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...rows.map((row, index) => marginBand(layout, row, index)),
    ...axis(layout, bottom),
    ...rows.map((row, index) => rowDrawing(layout, row, index)),
    ...foot.map((line, index) =>
      textAt(EDGE, footTop + index * LINE, line, { sizePx: SMALL, fill: INK.grey }),
    ),
  );
}

function rowHeight(narrow: boolean, oneLine: boolean): number {
  if (narrow) return 74;
  return oneLine ? 18 : 46;
}

/**
 * What all are held against is said once, in the title. Pairs of long names give way to their codes, which the
 * figure of strips on the same page explains.
 */
function oneLineLabels(rows: readonly Row[], marks: TreatmentMarks, roomPx: number): readonly string[] {
  if (commonCheck(rows) !== null) return rows.map(({ answer }) => answer.a);
  const names = rows.map(({ answer: { a, b } }) => `${a} against ${b}`);
  if (names.every((name) => textWidthPx(name, SMALL) <= roomPx)) return names;
  const code = (treatment: string) => marks.get(treatment)?.code ?? treatment;
  return rows.map(({ answer: { a, b } }) => `${code(a)} against ${code(b)}`);
}

function commonCheck(rows: readonly Row[]): string | null {
  const first = rows[0]?.answer.b ?? null;
  return rows.every(({ answer }) => answer.b === first) ? first : null;
}

function verdictRoom(rows: readonly Row[], widthPx: number, oneLine: boolean): number {
  if (!oneLine) return Math.min(300, widthPx * 0.29);
  return Math.min(
    widthPx * 0.26,
    Math.max(...rows.map(({ answer }) => textWidthPx(verdictWords(answer), SMALL))),
  );
}

function labelWidth(rows: readonly Row[], widthPx: number): number {
  const widths = rows.flatMap(({ answer: { a, b } }) => [
    textWidthPx(a, SIZE, true),
    textWidthPx(`against ${b}`, SIZE),
  ]);
  return Math.min(widthPx * 0.27, Math.max(...widths));
}

function valuesOf(rows: readonly Row[]): readonly number[] {
  return rows.flatMap(({ answer, breakEven }) => {
    const { margin } = answer.equivalence;
    const band = margin === null ? [] : [margin, -margin];
    const known = [answer.interval.lower, answer.interval.upper, breakEven].flatMap((value) => value ?? []);
    return [0, answer.estimate, ...known, ...band];
  });
}

function legendItems(rows: readonly Row[], side: 1 | -1): readonly LegendItem[] {
  const items: LegendItem[] = [
    {
      label: 'interval, Real',
      key: (x, y) => element('g', {}, ...intervalShape(x - 8, x, x + 8, y, true)),
    },
    {
      label: 'interval, not Real',
      key: (x, y) => element('g', {}, ...intervalShape(x - 8, x, x + 8, y, false)),
    },
  ];
  if (rows.some((row) => row.breakEven !== null)) {
    items.push({ label: 'break-even', key: (x, y) => breakEvenShape(x, y, 8, side) });
  }
  if (rows.some((row) => row.answer.equivalence.margin !== null)) {
    items.push({
      label: 'too small to matter',
      key: (x, y) => element('rect', { x: x - 9, y: y - 6, width: 18, height: 12, ...BAND }),
    });
  }
  return items;
}

/** On a narrow page words stand above and below each interval, so bands and lines keep to the middle of the row. */
function rowSpan(layout: Layout, index: number): { readonly y: number; readonly height: number } {
  const y = layout.top + index * layout.rowHeight;
  return layout.narrow ? { y: y + 25, height: 30 } : { y, height: layout.rowHeight };
}

const BAND = { fill: INK.faint, 'fill-opacity': 0.7 } as const;

function marginBand(layout: Layout, { answer }: Row, index: number): Markup {
  const { margin } = answer.equivalence;
  if (margin === null) return element('g', {});
  const from = layout.scale.toPx(-margin);
  return element('rect', {
    class: 'margin',
    x: from,
    ...rowSpan(layout, index),
    width: layout.scale.toPx(margin) - from,
    ...BAND,
  });
}

function axis(layout: Layout, bottom: number): readonly Markup[] {
  const { scale, plotLeft, plotRight } = layout;
  const zero = scale.toPx(0);
  const ticks = scale.ticks.flatMap((tick) => {
    const x = scale.toPx(tick);
    return [
      element('line', { x1: x, x2: x, y1: bottom, y2: bottom + 4, stroke: INK.line, 'stroke-width': 1 }),
      textAt(x, bottom + 17, signed(tick, scale.decimals), {
        sizePx: SMALL,
        fill: INK.grey,
        anchor: 'middle',
      }),
    ];
  });
  return [
    element('line', {
      x1: plotLeft,
      x2: plotRight,
      y1: bottom,
      y2: bottom,
      stroke: INK.line,
      'stroke-width': 1,
    }),
    ...layout.rows.map((_, index) => {
      const { y, height } = rowSpan(layout, index);
      return element('line', {
        class: 'zero',
        x1: zero,
        x2: zero,
        y1: y,
        y2: y + height,
        stroke: INK.black,
        'stroke-width': 1.4,
      });
    }),
    ...ticks,
  ];
}

function rowDrawing(layout: Layout, row: Row, index: number): Markup {
  const { scale, top, rowHeight, narrow } = layout;
  const { estimate, interval } = row.answer;
  const rowTop = top + index * rowHeight;
  const y = narrow ? rowTop + 40 : rowTop + rowHeight / 2;
  const lower = interval.lower === null ? null : scale.toPx(interval.lower);
  const upper = interval.upper === null ? null : scale.toPx(interval.upper);
  const breakEven =
    row.breakEven === null
      ? []
      : [
          breakEvenShape(
            scale.toPx(row.breakEven),
            y,
            layout.labels === null ? 13 : 9,
            payingSide(layout.response),
          ),
        ];
  return element(
    'g',
    { class: 'comparison' },
    element('title', {}, textNode(rowWords(layout, row))),
    ...separator(layout, rowTop, index),
    ...breakEven,
    ...intervalShape(lower, scale.toPx(estimate), upper, y, isReal(row.answer)),
    ...rowLabels(layout, row, rowTop, y),
  );
}

function separator(layout: Layout, y: number, index: number): readonly Markup[] {
  if (index === 0) return [];
  const { widthPx } = layout;
  return [
    element('line', { x1: EDGE, x2: widthPx - EDGE, y1: y, y2: y, stroke: INK.faint, 'stroke-width': 1 }),
  ];
}

function payingSide(response: ReportResponse): 1 | -1 {
  return response.better === 'higher' ? 1 : -1;
}

/** By the verdict, not by the interval: Holm and the protected LSD judge more strictly than an interval shows. */
function isReal({ difference }: ReportAnswer): boolean {
  return difference === 'Real' || difference === 'Real, but smaller than matters';
}

/** The interval with its ends; the estimate is solid where the difference is Real, else hollow. */
function intervalShape(
  lower: number | null,
  estimate: number,
  upper: number | null,
  y: number,
  solid: boolean,
): readonly Markup[] {
  const bar =
    lower === null || upper === null
      ? []
      : [
          element('path', {
            class: 'interval',
            d: `M${pixels(lower)} ${pixels(y - 5)}V${pixels(y + 5)}M${pixels(lower)} ${pixels(y)}H${pixels(upper)}M${pixels(upper)} ${pixels(y - 5)}V${pixels(y + 5)}`,
            fill: 'none',
            stroke: INK.black,
            'stroke-width': 2,
          }),
        ];
  return [
    ...bar,
    element('circle', {
      class: 'estimate',
      cx: estimate,
      cy: y,
      r: 4.5,
      fill: solid ? INK.black : INK.paper,
      stroke: INK.black,
      'stroke-width': 1.8,
    }),
  ];
}

/** A post with a pennant on the side where it pays: +1 right, -1 left. */
function breakEvenShape(x: number, y: number, reach: number, side: 1 | -1): Markup {
  const flag = reach * 0.55;
  return element(
    'g',
    { class: 'break-even' },
    element('line', {
      x1: x,
      x2: x,
      y1: y - reach,
      y2: y + reach,
      stroke: BREAK_EVEN_COLOUR,
      'stroke-width': 2,
      'stroke-dasharray': '4 2',
    }),
    element('path', {
      d: `M${pixels(x)} ${pixels(y - reach)}L${pixels(x + side * flag)} ${pixels(y - reach + flag / 2)}L${pixels(x)} ${pixels(y - reach + flag)}Z`,
      fill: BREAK_EVEN_COLOUR,
    }),
  );
}

function rowLabels(layout: Layout, row: Row, rowTop: number, y: number): readonly Markup[] {
  const { narrow, widthPx, plotLeft, plotRight } = layout;
  const { a, b } = row.answer;
  const figures = estimateWords(layout, row);
  const black = { sizePx: SIZE, fill: INK.black } as const;
  if (narrow) {
    const room = widthPx - 2 * EDGE;
    return [
      textAt(EDGE, rowTop + 18, fitText(`${a} against ${b}`, room, SIZE, true), { ...black, bold: true }),
      textAt(EDGE, rowTop + 66, fitText(`${verdictWords(row.answer)}  (${figures})`, room, SMALL), {
        ...black,
        sizePx: SMALL,
      }),
    ];
  }
  const labelRoom = plotLeft - 12 - EDGE;
  const label = layout.labels?.[layout.rows.indexOf(row)];
  if (label !== undefined) {
    const verdictsRoom = widthPx - EDGE - plotRight - 10;
    const small = { ...black, sizePx: SMALL };
    return [
      textAt(EDGE, y + 4, fitText(label, labelRoom, SMALL), small),
      textAt(plotRight + 10, y + 4, fitText(verdictWords(row.answer), verdictsRoom, SMALL), small),
    ];
  }
  const wordsLeft = plotRight + 14;
  const wordsRoom = widthPx - EDGE - wordsLeft;
  return [
    textAt(EDGE, y - 4, fitText(a, labelRoom, SIZE, true), { ...black, bold: true }),
    textAt(EDGE, y + 12, fitText(`against ${b}`, labelRoom, SIZE), { ...black, fill: INK.grey }),
    textAt(wordsLeft, y - 4, fitText(verdictWords(row.answer), wordsRoom, SIZE, true), {
      ...black,
      bold: true,
    }),
    textAt(wordsLeft, y + 12, fitText(figures, wordsRoom, SMALL), {
      ...black,
      sizePx: SMALL,
      fill: INK.grey,
    }),
  ];
}

/** Both statements; what stands in for one that could not be made is said too. */
function verdictWords({ difference, money }: ReportAnswer): string {
  const pays = money ?? (difference === null ? null : 'Money not known');
  return [difference ?? NUMBERS_ONLY, pays].flatMap((words) => words ?? []).join('. ');
}

function estimateWords(layout: Layout, row: Row): string {
  const { estimate, interval } = row.answer;
  const difference = withUnit(signed(estimate, layout.decimals), layout.response.unit);
  if (interval.lower === null || interval.upper === null) return difference;
  return `${difference}; ${signedBound(interval.lower, layout.decimals)} to ${signedBound(interval.upper, layout.decimals)}`;
}

function rowWords(layout: Layout, row: Row): string {
  const { a, b } = row.answer;
  const pay =
    row.breakEven === null
      ? 'break-even not known'
      : `break-even at ${withUnit(signed(row.breakEven, layout.decimals), layout.response.unit)}`;
  return `${a} against ${b}: ${estimateWords(layout, row)}; ${pay}. ${verdictWords(row.answer)}.`;
}

function footLines(layout: Layout, leftOut: number): readonly string[] {
  const { response, widthPx, rows } = layout;
  const better =
    response.better === 'higher' ? 'Right of zero is better' : 'Left of zero is better (lower wanted)';
  const first = rows[0]?.answer.interval;
  const level =
    first === undefined || first.lower === null
      ? 'No interval: without replication there is nothing to judge by'
      : `Intervals of ${levelPercent(first.level)} (${procedureName(first.procedure)})`;
  const rest = leftOut > 0 ? ` ${leftOut} further comparisons stand in the table.` : '';
  return wrapText(`${better}. ${level}.${rest}`, widthPx - 2 * EDGE, SMALL, 4);
}

function inWords(layout: Layout): string {
  return layout.rows.map((row) => rowWords(layout, row)).join(' ');
}
