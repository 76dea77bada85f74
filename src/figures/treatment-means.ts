import type { ReportMean, ReportModel, ReportResponse } from '../findings/report-model.ts';
import { decimalsFor, fixed, levelPercent, percentOf, withUnit } from '../words/number-formats.ts';
import { decidingLetters } from './deciding-letters.ts';
import {
  capitalised,
  checkedWidth,
  type FigureOptions,
  isNarrow,
  responseHeading,
  responseNamed,
} from './figure-options.ts';
import { INK } from './ink.ts';
import { notice } from './notice.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { fitText, textAt, textWidthPx, wrapText } from './text-fitting.ts';
import {
  codeAndName,
  markShape,
  type TreatmentMarks,
  treatmentMarks,
  treatmentsOf,
} from './treatment-marks.ts';
import { type ValueScale, valueScale } from './value-scale.ts';

const EDGE = 10;
const TITLE_SIZE = 14;
const SIZE = 12;
const SMALL = 11;
const LINE = 16;
const MOST_MEANS = 60;

interface Layout {
  readonly response: ReportResponse;
  readonly marks: TreatmentMarks;
  readonly scale: ValueScale;
  readonly narrow: boolean;
  readonly plotLeft: number;
  readonly plotRight: number;
  readonly top: number;
  readonly rowHeight: number;
  readonly decimals: number;
  readonly letters: ReadonlyMap<string, string>;
}

/**
 * Treatment means (adjusted, where blocks lack treatments) with their intervals, one row each, so that names can be
 * read; the letters of the procedure that decides, where it gives any; and the LSD drawn to the same scale.
 */
export function treatmentMeans(report: ReportModel, responseName: string, options: FigureOptions): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'treatment-means';
  const response = responseNamed(report, responseName);
  const title = `${capitalised(responseHeading(response))}: treatment means`;
  if (response.means.length === 0) {
    return notice(widthPx, id, title, response.refusal?.message ?? 'There are no means to draw.');
  }
  if (response.means.length > MOST_MEANS) {
    return notice(widthPx, id, title, `${response.means.length} means are too many to draw; see the table.`);
  }
  return drawMeans(report, response, widthPx, id, title);
}

function drawMeans(
  report: ReportModel,
  response: ReportResponse,
  widthPx: number,
  id: string,
  title: string,
): string {
  const narrow = isNarrow(widthPx);
  const letters = decidingLetters(response);
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  const titleLines = wrapText(title, widthPx - 2 * EDGE, TITLE_SIZE, 2, true);
  const marks = treatmentMarks(treatmentsOf(report));
  const names = widest(response.means.map((mean) => nameOf(mean, marks)));
  const rightRoom = 16 + widest(response.means.map((mean) => figuresOf(mean, letters, decimals)));
  const plotLeft = narrow ? EDGE + 8 : EDGE + Math.min(names, widthPx * 0.3) + 18;
  const plotRight = widthPx - EDGE - rightRoom;
  const layout: Layout = {
    response,
    marks,
    scale: valueScale(valuesOf(response), plotLeft, plotRight, narrow ? 4 : 6),
    narrow,
    plotLeft,
    plotRight,
    top: 34 + titleLines.length * LINE + (response.lsd.value === null ? 0 : 22),
    rowHeight: narrow ? 42 : 30,
    decimals,
    letters,
  };
  const bottom = layout.top + response.means.length * layout.rowHeight;
  const foot = wrapText(footWords(layout), widthPx - 2 * EDGE, SMALL, 5);
  const footTop = bottom + 40;
  return drawing(
    { widthPx, heightPx: footTop + foot.length * LINE - 4, id, title, description: inWords(layout) },
    ...titleLines.map((line, index) =>
      textAt(EDGE, 20 + index * LINE, line, { sizePx: TITLE_SIZE, fill: INK.black, bold: true }),
    ),
    ...lsdBar(layout),
    ...axis(layout, bottom),
    ...response.means.map((mean, index) => meanRow(layout, mean, index)),
    ...foot.map((line, index) =>
      textAt(EDGE, footTop + index * LINE, line, { sizePx: SMALL, fill: INK.grey }),
    ),
  );
}

function widest(texts: readonly string[]): number {
  return Math.max(...texts.map((text) => textWidthPx(text, SIZE, true)));
}

function nameOf({ treatment }: ReportMean, marks: TreatmentMarks): string {
  const mark = marks.get(treatment);
  return mark === undefined ? treatment : codeAndName(mark);
}

function figuresOf(mean: ReportMean, letters: ReadonlyMap<string, string>, decimals: number): string {
  const letter = letters.get(mean.treatment);
  const figure = fixed(mean.adjustedMean, decimals);
  return letter === undefined ? figure : `${figure} ${letter}`;
}

function valuesOf(response: ReportResponse): readonly number[] {
  return response.means.flatMap((mean) => [
    mean.adjustedMean,
    ...[mean.lower, mean.upper].flatMap((value) => value ?? []),
  ]);
}

/** Means further apart than this bar differ by LSD; drawn from the left edge, since only its length says something. */
function lsdBar(layout: Layout): readonly Markup[] {
  const { response, scale, plotLeft, plotRight, top, decimals } = layout;
  const { value, alpha } = response.lsd;
  if (value === null) return [];
  const length = scale.toPx(scale.low + value) - scale.toPx(scale.low);
  const y = top - 20;
  const label = `LSD (${percentOf(alpha)}) ${fixed(value, decimals)}`;
  const labelWidth = textWidthPx(label, SMALL);
  if (plotLeft + length > plotRight)
    return [textAt(plotLeft, y + 4, label, { sizePx: SMALL, fill: INK.black })];
  const beside = plotLeft + length + 8 + labelWidth <= plotRight + 60;
  return [
    element('path', {
      class: 'lsd',
      d: `M${pixels(plotLeft)} ${pixels(y - 5)}V${pixels(y + 5)}M${pixels(plotLeft)} ${pixels(y)}H${pixels(plotLeft + length)}M${pixels(plotLeft + length)} ${pixels(y - 5)}V${pixels(y + 5)}`,
      fill: 'none',
      stroke: INK.black,
      'stroke-width': 1.4,
    }),
    textAt(beside ? plotLeft + length + 8 : plotLeft + 6, beside ? y + 4 : y - 6, label, {
      sizePx: SMALL,
      fill: INK.black,
    }),
  ];
}

function axis(layout: Layout, bottom: number): readonly Markup[] {
  const { scale, top } = layout;
  return scale.ticks.flatMap((tick) => {
    const x = scale.toPx(tick);
    return [
      element('line', {
        x1: x,
        x2: x,
        y1: top - 4,
        y2: bottom + 4,
        stroke: INK.line,
        'stroke-width': 0.6,
        'stroke-dasharray': '1 4',
      }),
      textAt(x, bottom + 17, fixed(tick, scale.decimals), {
        sizePx: SMALL,
        fill: INK.grey,
        anchor: 'middle',
      }),
    ];
  });
}

function meanRow(layout: Layout, mean: ReportMean, index: number): Markup {
  const { scale, top, rowHeight, narrow, plotLeft, plotRight, marks, decimals, letters } = layout;
  const rowTop = top + index * rowHeight;
  const y = narrow ? rowTop + 29 : rowTop + rowHeight / 2;
  const x = scale.toPx(mean.adjustedMean);
  const mark = marks.get(mean.treatment);
  const nameRoom = narrow ? plotRight - EDGE : plotLeft - 12 - EDGE;
  return element(
    'g',
    { class: 'mean' },
    element('title', {}, textNode(meanWords(layout, mean))),
    ...intervalLine(layout, mean, y),
    ...(mark === undefined ? [] : [markShape(mark, x, y, 6)]),
    textAt(EDGE, narrow ? rowTop + 14 : y + 4, fitText(nameOf(mean, marks), nameRoom, SIZE), {
      sizePx: SIZE,
      fill: INK.black,
    }),
    textAt(plotRight + 14, y + 4, figuresOf(mean, letters, decimals), {
      sizePx: SIZE,
      fill: INK.black,
      bold: true,
    }),
  );
}

function intervalLine({ scale }: Layout, { lower, upper }: ReportMean, y: number): readonly Markup[] {
  if (lower === null || upper === null) return [];
  return [
    element('line', {
      class: 'interval',
      x1: scale.toPx(lower),
      x2: scale.toPx(upper),
      y1: y,
      y2: y,
      stroke: INK.black,
      'stroke-width': 1.6,
    }),
  ];
}

function footWords(layout: Layout): string {
  const { response, letters } = layout;
  const hasIntervals = response.means.some((mean) => mean.lower !== null);
  const bars = hasIntervals
    ? `Lines: interval of ${levelPercent(1 - response.alpha)} of each mean; not made for judging differences.`
    : 'No intervals: without replication there is nothing to judge by.';
  if (letters.size === 0) return bars;
  return `${bars} Treatments that share a letter are not told apart.`;
}

function meanWords(layout: Layout, mean: ReportMean): string {
  const { decimals, response } = layout;
  const between =
    mean.lower === null || mean.upper === null
      ? ''
      : ` (${fixed(mean.lower, decimals)} to ${fixed(mean.upper, decimals)})`;
  const letter = layout.letters.get(mean.treatment);
  const letters = letter === undefined ? '' : `, ${letter}`;
  return `${mean.treatment}: ${withUnit(fixed(mean.adjustedMean, decimals), response.unit)}${between}${letters}, from ${mean.n} ${mean.n === 1 ? 'strip' : 'strips'}`;
}

function inWords(layout: Layout): string {
  return `${layout.response.means.map((mean) => meanWords(layout, mean)).join('. ')}.`;
}
