import { type FieldFrame, fieldFrame, type Ring, ringsPath } from './field-frame.ts';
import { checkedWidth, type FigureOptions } from './figure-options.ts';
import { INK } from './ink.ts';
import { type LegendItem, legend } from './legend.ts';
import { notice } from './notice.ts';
import { patternDefinition, patternId } from './strip-patterns.ts';
import { drawing, element, type Markup, textNode } from './svg-markup.ts';
import { textAt, textWidthPx, wrapText } from './text-fitting.ts';
import { codeAndName, type TreatmentMarks, treatmentMarks } from './treatment-marks.ts';

/** A harvest pass in local metres: its left side from start to finish, then its right side back. */
export interface PassToDraw {
  readonly number: number;
  readonly ring: Ring;
  /** null: of no strip. */
  readonly strip: string | null;
  /** Of that strip. */
  readonly treatment: string | null;
}

export interface PassMapInput {
  readonly passes: readonly PassToDraw[];
  /** In the trial's order, so that each has the mark of the other figures. */
  readonly treatments: readonly string[];
  /** The edge that number 1 lies at. */
  readonly from: 'west' | 'south';
}

export interface PassMapOptions extends FigureOptions {
  /** At most this high; by default as high as 1.1 times the width and no more than 620. */
  readonly mostHeightPx?: number;
}

const EDGE = 10;
const SMALL = 10;
/** A number stands this far beyond the end of its pass. */
const BEYOND_PX = 11;

/**
 * The harvest passes as they lie, north up, each with its number at one end and its strip at the other, filled by the
 * pattern of the strip's treatment; passes of no strip are left plain. Numbers and names that would run into others
 * are left out.
 */
export function passMap(input: PassMapInput, options: PassMapOptions): string {
  const widthPx = checkedWidth(options);
  const id = options.id ?? 'pass-map';
  const title = titleOf(input);
  if (input.passes.length === 0) return notice(widthPx, id, title, 'There is no pass to draw.');
  const marks = treatmentMarks(input.treatments);
  const { titleLines, keys, top, frame } = partsOf(input, options, marks, title, id);
  return drawing(
    { widthPx, heightPx: top + frame.heightPx + EDGE, id, title, description: inWords(input) },
    element(
      'defs',
      {},
      ...[...marks.values()].map((mark, k) => patternDefinition(patternId(id, mark, k), mark)),
    ),
    ...titleLines.map((line, k) =>
      textAt(EDGE, 20 + 18 * k, line, { sizePx: 14, fill: INK.black, bold: true }),
    ),
    ...keys.parts,
    ...input.passes.map((pass) => passShape(pass, frame, marks, id)),
    ...endLabels(input.passes, frame, widthPx),
  );
}

/** Where on the ground, east and north in metres, a place of the picture lies. */
export function groundOnPassMap(
  input: PassMapInput,
  options: PassMapOptions,
  xPx: number,
  yPx: number,
): readonly [eastM: number, northM: number] | null {
  if (input.passes.length === 0) return null;
  const { frame } = partsOf(input, options, treatmentMarks(input.treatments), titleOf(input), '');
  return [(xPx - frame.toX(0)) / frame.pxPerM, (frame.toY(0) - yPx) / frame.pxPerM];
}

function titleOf({ from }: PassMapInput): string {
  return `Harvest passes, number 1 at the ${from}ern edge`;
}

function partsOf(
  input: PassMapInput,
  options: PassMapOptions,
  marks: TreatmentMarks,
  title: string,
  id: string,
) {
  const widthPx = checkedWidth(options);
  const titleLines = wrapText(title, widthPx - 2 * EDGE, 14, 2, true);
  const keysTop = 12 + titleLines.length * 18;
  const keys = legend(legendItems(input, marks, id), EDGE, keysTop, widthPx - 2 * EDGE);
  const top = keysTop + keys.heightPx + 10;
  const mostHeightPx = options.mostHeightPx ?? Math.min(620, widthPx * 1.1);
  const drawn = input.passes.map((pass) => ({ id: '', treatment: '', block: null, rings: [pass.ring] }));
  return { titleLines, keys, top, frame: fieldFrame(drawn, EDGE, top, widthPx - 2 * EDGE, mostHeightPx) };
}

function legendItems(input: PassMapInput, marks: TreatmentMarks, id: string): readonly LegendItem[] {
  const used = new Set(input.passes.map(({ treatment }) => treatment));
  const items = [...marks.values()].flatMap((mark, k) =>
    used.has(mark.treatment)
      ? [legendItem(codeAndName(mark), `url(#${patternId(id, mark, k)})`, mark.colour)]
      : [],
  );
  return used.has(null) ? [...items, legendItem('of no strip', INK.paper, INK.grey, '3 2')] : items;
}

function legendItem(label: string, fill: string, stroke: string, dashes?: string): LegendItem {
  const line = dashes === undefined ? {} : { 'stroke-dasharray': dashes };
  return {
    label,
    key: (x, y) =>
      element('rect', {
        x: x - 8,
        y: y - 6,
        width: 16,
        height: 12,
        fill,
        stroke,
        'stroke-width': 1,
        ...line,
      }),
  };
}

function passShape(pass: PassToDraw, frame: FieldFrame, marks: TreatmentMarks, id: string): Markup {
  const mark = pass.treatment === null ? undefined : marks.get(pass.treatment);
  const index = [...marks.keys()].indexOf(pass.treatment ?? '');
  const paint =
    mark === undefined
      ? { fill: INK.paper, stroke: INK.grey, 'stroke-dasharray': '3 2' }
      : { fill: `url(#${patternId(id, mark, index)})`, stroke: mark.colour };
  return element(
    'g',
    { class: 'pass', 'data-pass': pass.number },
    element('title', {}, textNode(passWords(pass))),
    element('path', { d: ringsPath([pass.ring], frame), 'stroke-width': 1, ...paint }),
  );
}

interface Place {
  readonly x: number;
  readonly y: number;
}

interface PassEnds {
  /** The upper end (the left one, where passes run more across the picture), and the other. */
  readonly first: Place;
  readonly last: Place;
}

function endsOf({ ring }: PassToDraw, frame: FieldFrame): PassEnds {
  const half = ring.length / 2;
  const between = (a: number, b: number): Place => {
    const [one, other] = [ring[a] ?? [0, 0], ring[b] ?? [0, 0]];
    return { x: frame.toX((one[0] + other[0]) / 2), y: frame.toY((one[1] + other[1]) / 2) };
  };
  const [start, finish] = [between(0, ring.length - 1), between(half - 1, half)];
  const isUpright = Math.abs(finish.y - start.y) >= Math.abs(finish.x - start.x);
  const startsFirst = isUpright ? start.y < finish.y : start.x < finish.x;
  return startsFirst ? { first: start, last: finish } : { first: finish, last: start };
}

/** Numbers first, every so many that there is room for, and the last; then the names of strips at their middle pass. */
function endLabels(passes: readonly PassToDraw[], frame: FieldFrame, widthPx: number): readonly Markup[] {
  const written: Box[] = [];
  const write = (pass: PassToDraw, text: string, isName: boolean): Markup[] => {
    const { first, last } = endsOf(pass, frame);
    const [at, other] = isName ? [last, first] : [first, last];
    const box = boxBeyond(at, other, text);
    const isInside = box.x >= 0 && box.x + box.width <= widthPx;
    if (!isInside || written.some((one) => overlap(one, box))) return [];
    written.push(box);
    const fill = isName ? INK.grey : INK.black;
    const middle = box.x + box.width / 2;
    return [
      textAt(middle, box.y + SMALL - 2, text, { sizePx: SMALL, bold: !isName, anchor: 'middle', fill }),
    ];
  };
  const every = stepOf(passes, frame);
  const edges = passes.length > 1 ? [passes[0]!, passes.at(-1)!] : passes;
  const inner = passes.slice(1, -1).filter(({ number }) => number % every === 0);
  return [
    ...[...edges, ...inner].flatMap((pass) => write(pass, String(pass.number), false)),
    ...middlePasses(passes).flatMap((pass) => write(pass, pass.strip ?? '', true)),
  ];
}

const STEPS = [1, 2, 5, 10, 20, 50];

/** Neighbouring numbers want so much room, along the line on which they stand. */
function stepOf(passes: readonly PassToDraw[], frame: FieldFrame): number {
  const [one, other] = [passes[0], passes.at(-1)];
  if (one === undefined || other === undefined || passes.length < 2) return 1;
  const [a, b] = [endsOf(one, frame).first, endsOf(other, frame).first];
  const apartPx = Math.hypot(b.x - a.x, b.y - a.y) / (passes.length - 1);
  const isAcross = Math.abs(b.x - a.x) >= Math.abs(b.y - a.y);
  const wantedPx = isAcross ? textWidthPx(String(other.number), SMALL, true) + 2 : SMALL + 2;
  return STEPS.find((step) => step * apartPx >= wantedPx) ?? 100;
}

function middlePasses(passes: readonly PassToDraw[]): readonly PassToDraw[] {
  const strips = new Set(passes.flatMap(({ strip }) => strip ?? []));
  return [...strips].map((strip) => {
    const own = passes.filter((pass) => pass.strip === strip);
    return own[Math.floor((own.length - 1) / 2)]!;
  });
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function boxBeyond(at: Place, other: Place, text: string): Box {
  const length = Math.hypot(at.x - other.x, at.y - other.y) || 1;
  const [dx, dy] = [(at.x - other.x) / length, (at.y - other.y) / length];
  const width = textWidthPx(text, SMALL, true);
  const beyond = BEYOND_PX + (Math.abs(dx) * (width - SMALL)) / 2;
  return {
    x: at.x + dx * beyond - width / 2 - 1,
    y: at.y + dy * beyond - SMALL / 2,
    width: width + 2,
    height: SMALL,
  };
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

function passWords({ number, strip, treatment }: PassToDraw): string {
  return strip === null
    ? `Pass ${number}: of no strip`
    : `Pass ${number}: strip ${strip}, ${treatment ?? ''}`;
}

function inWords({ passes }: PassMapInput): string {
  return `${passes.length} passes. ${passes.map(passWords).join('; ')}.`;
}
