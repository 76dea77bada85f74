import { lengthUnit } from '../trial/display-units.ts';
import type { UnitSystem } from '../trial/trial-document.ts';
import { fixed } from '../words/number-formats.ts';
import { type FieldFrame, fieldFrame, ringsPath } from './field-frame.ts';
import { blockLabels, stripLabels } from './field-labels.ts';
import { checkedWidth, type FigureOptions } from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { notice } from './notice.ts';
import type { StripOnField } from './strip-on-field.ts';
import { patternDefinition, patternId } from './strip-patterns.ts';
import { drawing, element, type Markup, pixels, textNode } from './svg-markup.ts';
import { textAt, wrapText } from './text-fitting.ts';
import { codeAndName, type TreatmentMarks, treatmentMarks } from './treatment-marks.ts';
import { roundStep } from './value-scale.ts';

/** Parallel arrays in local metres; `kept[i]` is 0 where the point was set aside. */
export interface PointsOnField {
  readonly eastM: ArrayLike<number>;
  readonly northM: ArrayLike<number>;
  readonly kept: ArrayLike<number>;
}

export interface FieldMapInput {
  readonly strips: readonly StripOnField[];
  /** Where they were planned, drawn dashed; absent or empty: there. */
  readonly planned?: readonly StripOnField[];
  /** In the trial's order: it gives each treatment its mark and pattern, the same as in the other figures. */
  readonly treatments: readonly string[];
  readonly unitSystem: UnitSystem;
  readonly points?: PointsOnField;
}

export interface FieldMapOptions extends FigureOptions {
  /** At most this many points are drawn, evenly taken; 4000 by default. */
  readonly mostPoints?: number;
  /** At most this high; by default as high as 1.1 times the width and no more than 640. */
  readonly mostHeightPx?: number;
}

const EDGE = 10;
const TITLE = 'The field: strips, treatments and blocks';
const SMALL = 11;
const PLANNED_LINE = { fill: 'none', stroke: INK.black, 'stroke-width': 1, 'stroke-dasharray': '5 3' };

/**
 * The field as it lies, north up: each strip filled by its treatment's pattern and named by its code, each block
 * named beyond the northern ends of its strips, a north arrow and a scale bar. Points, where given: kept ones as dots, those set aside
 * as crosses.
 */
export function fieldMap(input: FieldMapInput, options: FieldMapOptions): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'field-map';
  const strips = input.strips.filter((strip) => strip.rings.some((ring) => ring.length > 0));
  if (strips.length === 0)
    return notice(widthPx, id, TITLE, 'No strip has an outline, so there is no map to draw.');
  const marks = treatmentMarks(input.treatments);
  const keys = legend(legendItems(input, marks, id), EDGE, 30, widthPx - 2 * EDGE);
  const top = 40 + keys.heightPx;
  const planned = input.planned ?? [];
  const frame = fieldFrame(
    [...strips, ...planned],
    EDGE,
    top,
    widthPx - 2 * EDGE,
    options.mostHeightPx ?? Math.min(640, widthPx * 1.1),
  );
  const sampled = input.points === undefined ? null : sample(input.points, options.mostPoints ?? 4000);
  const footTop = top + frame.heightPx + 12;
  const foot = wrapText(footWords(strips, sampled), widthPx - 2 * EDGE, SMALL, 3);
  const heightPx = footTop + 44 + foot.length * 15;
  return drawing(
    { widthPx, heightPx, id, title: TITLE, description: inWords(strips) },
    patterns(marks, id),
    ...wrapText(TITLE, widthPx - 2 * EDGE, 14, 1, true).map((line) =>
      textAt(EDGE, 20, line, { sizePx: 14, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...strips.map((strip) => stripShape(strip, frame, marks, id)),
    ...planned.map((strip) => plannedShape(strip, frame)),
    ...(sampled === null ? [] : pointShapes(sampled, frame)),
    ...stripLabels(strips, frame, marks),
    ...blockLabels(strips, frame),
    ...scaleBar(frame, input.unitSystem, EDGE, footTop + 8, widthPx),
    ...northArrow(widthPx - EDGE - 12, footTop + 16),
    ...foot.map((line, index) =>
      textAt(EDGE, footTop + 50 + index * 15, line, { sizePx: SMALL, fill: INK.grey }),
    ),
  );
}

function patterns(marks: TreatmentMarks, id: string): Markup {
  const all = [...marks.values()].map((mark, index) => patternDefinition(patternId(id, mark, index), mark));
  return element('defs', {}, ...all);
}

function patternOf(treatment: string, marks: TreatmentMarks, id: string): string {
  const index = [...marks.keys()].indexOf(treatment);
  const mark = marks.get(treatment);
  return mark === undefined ? INK.wash : `url(#${patternId(id, mark, index)})`;
}

function legendItems(input: FieldMapInput, marks: TreatmentMarks, id: string): readonly LegendItem[] {
  const items: LegendItem[] = [...marks.values()].map((mark) => ({
    label: codeAndName(mark),
    key: (x, y) =>
      element('rect', {
        x: x - 8,
        y: y - 6,
        width: 16,
        height: 12,
        fill: patternOf(mark.treatment, marks, id),
        stroke: mark.colour,
        'stroke-width': 1,
      }),
  }));
  if ((input.planned ?? []).length > 0) items.push({ label: 'as planned', key: plannedKey });
  if (input.points === undefined) return items;
  return [
    ...items,
    { label: 'point kept', key: (x, y) => element('circle', { cx: x, cy: y, r: 1.8, fill: INK.black }) },
    { label: 'point set aside', key: (x, y) => crosses(crossPath(x, y, 3)) },
  ];
}

function stripShape(strip: StripOnField, frame: FieldFrame, marks: TreatmentMarks, id: string): Markup {
  const where = strip.block === null ? '' : `, block ${strip.block}`;
  return element(
    'g',
    { class: 'strip', 'data-strip': strip.id },
    element('title', {}, textNode(`Strip ${strip.id}${where}: ${strip.treatment}`)),
    element('path', {
      d: ringsPath(strip.rings, frame),
      fill: patternOf(strip.treatment, marks, id),
      'fill-rule': 'evenodd',
      stroke: marks.get(strip.treatment)?.colour ?? INK.line,
      'stroke-width': 1,
    }),
  );
}

function plannedShape({ rings }: StripOnField, frame: FieldFrame): Markup {
  return element('path', { class: 'planned', d: ringsPath(rings, frame), ...PLANNED_LINE });
}

function plannedKey(x: number, y: number): Markup {
  return element('path', { d: `M${pixels(x - 8)} ${pixels(y)}h16`, ...PLANNED_LINE });
}

/** Every k-th point, so that the same file gives the same picture. */
function sample(points: PointsOnField, most: number): PointsOnField & { readonly of: number } {
  const of = points.eastM.length;
  const step = Math.max(1, Math.ceil(of / Math.max(1, most)));
  const indices = Array.from({ length: Math.ceil(of / step) }, (_, index) => index * step);
  const taken = indices.filter((i) => Number.isFinite(points.eastM[i]) && Number.isFinite(points.northM[i]));
  return {
    eastM: taken.map((i) => points.eastM[i] ?? 0),
    northM: taken.map((i) => points.northM[i] ?? 0),
    kept: taken.map((i) => points.kept[i] ?? 0),
    of,
  };
}

function pointShapes(points: PointsOnField, frame: FieldFrame): readonly Markup[] {
  const kept: string[] = [];
  const aside: string[] = [];
  for (let i = 0; i < points.eastM.length; i += 1) {
    const x = frame.toX(points.eastM[i] ?? 0);
    const y = frame.toY(points.northM[i] ?? 0);
    if (x < frame.left || x > frame.left + frame.widthPx || y < frame.top || y > frame.top + frame.heightPx)
      continue;
    if (points.kept[i]) kept.push(`M${pixels(x)} ${pixels(y)}h0`);
    else aside.push(crossPath(x, y, 1.8));
  }
  return [
    element('path', {
      class: 'points-kept',
      d: kept.join(''),
      fill: 'none',
      stroke: INK.black,
      'stroke-width': 2,
      'stroke-linecap': 'round',
    }),
    crosses(aside.join('')),
  ];
}

function crosses(d: string): Markup {
  return element('path', {
    class: 'points-set-aside',
    d,
    fill: 'none',
    stroke: INK.black,
    'stroke-width': 0.9,
  });
}

function crossPath(x: number, y: number, arm: number): string {
  const reach = pixels(2 * arm);
  return `M${pixels(x - arm)} ${pixels(y - arm)}l${reach} ${reach}M${pixels(x - arm)} ${pixels(y + arm)}l${reach} -${reach}`;
}

function scaleBar(
  frame: FieldFrame,
  system: UnitSystem,
  x: number,
  y: number,
  widthPx: number,
): readonly Markup[] {
  const unit = lengthUnit(system);
  const pxPerUnit = frame.pxPerM / unit.perSi;
  const length = roundStep((widthPx * 0.14) / pxPerUnit);
  const px = length * pxPerUnit;
  return [
    element('path', {
      class: 'scale-bar',
      d: `M${pixels(x)} ${pixels(y - 5)}V${pixels(y)}H${pixels(x + px)}V${pixels(y - 5)}M${pixels(x + px / 2)} ${pixels(y - 3)}V${pixels(y)}`,
      fill: 'none',
      stroke: INK.black,
      'stroke-width': 1.4,
    }),
    textAt(x, y + 15, `${fixed(length, length < 1 ? 1 : 0)} ${unit.label}`, {
      sizePx: SMALL,
      fill: INK.black,
    }),
  ];
}

function northArrow(x: number, y: number): readonly Markup[] {
  return [
    element('path', {
      class: 'north',
      d: `M${pixels(x)} ${pixels(y + 14)}V${pixels(y - 12)}M${pixels(x - 5)} ${pixels(y - 3)}L${pixels(x)} ${pixels(y - 12)}L${pixels(x + 5)} ${pixels(y - 3)}`,
      fill: 'none',
      stroke: INK.black,
      'stroke-width': 1.4,
    }),
    textAt(x - 10, y + 6, 'N', { sizePx: SMALL, fill: INK.black, bold: true, anchor: 'end' }),
  ];
}

function footWords(
  strips: readonly StripOnField[],
  points: { eastM: ArrayLike<number>; of: number } | null,
): string {
  const outlines = `${strips.length} strips as they lie, north up.`;
  if (points === null) return outlines;
  const drawn = points.eastM.length;
  return drawn === points.of
    ? `${outlines} All ${points.of} points.`
    : `${outlines} ${drawn} of ${points.of} points, evenly taken.`;
}

function inWords(strips: readonly StripOnField[]): string {
  const each = strips.map(
    (strip) => `strip ${strip.id}${strip.block === null ? '' : `, block ${strip.block}`}: ${strip.treatment}`,
  );
  return `${strips.length} strips: ${each.join('; ')}.`;
}
