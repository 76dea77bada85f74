import type { ReportModel } from '../findings/report-model.ts';
import { INK } from './ink.ts';
import { type Attributes, element, type Markup, pixels } from './svg-markup.ts';

/**
 * How a treatment is told apart: by colour, by the form of its mark, by the pattern of its strip and by a short
 * code, each enough on its own. Colours reach 4.5:1 against white (WCAG 2.2, 1.4.3), since codes are written in
 * them. Seven colours against eight forms repeat together only after 56 treatments.
 */
export interface TreatmentMark {
  readonly treatment: string;
  readonly code: string;
  readonly colour: string;
  readonly form: MarkForm;
  readonly pattern: StripPattern;
}

export const MARK_FORMS = [
  'disc',
  'square',
  'peak',
  'diamond',
  'funnel',
  'bar',
  'hourglass',
  'half',
] as const;
export type MarkForm = (typeof MARK_FORMS)[number];

export const STRIP_PATTERNS = [
  'plain',
  'rising',
  'dots',
  'upright',
  'falling',
  'level',
  'lattice',
  'dashes',
] as const;
export type StripPattern = (typeof STRIP_PATTERNS)[number];

export const MARK_COLOURS = [
  '#33312d',
  '#a8431a',
  '#0d6a71',
  '#4a3f94',
  '#7d6200',
  '#8b2a62',
  '#3f6b1c',
] as const;

export type TreatmentMarks = ReadonlyMap<string, TreatmentMark>;

/** Treatments in the order in which the report gives them: means of the first analysed response, then strips. */
export function treatmentsOf(report: ReportModel): readonly string[] {
  const analysed = report.responses.find((response) => response.means.length > 0);
  const fromMeans = analysed?.means.map((mean) => mean.treatment) ?? [];
  return [...new Set([...fromMeans, ...report.strips.map((strip) => strip.treatment)])];
}

export function treatmentMarks(treatments: readonly string[]): TreatmentMarks {
  const codes = codesFor(treatments);
  return new Map(
    treatments.map((treatment, index) => [
      treatment,
      {
        treatment,
        code: codes[index] ?? String(index + 1),
        colour: MARK_COLOURS[index % MARK_COLOURS.length] ?? INK.black,
        form: MARK_FORMS[index % MARK_FORMS.length] ?? 'disc',
        pattern: STRIP_PATTERNS[index % STRIP_PATTERNS.length] ?? 'plain',
      },
    ]),
  );
}

/** For legends and rows: the code before the name, unless they are one. */
export function codeAndName({ code, treatment }: TreatmentMark): string {
  return code === treatment.trim() ? treatment : `${code}  ${treatment}`;
}

const LONGEST_CODE = 3;

/** Short names are their own codes, as with rates; else first letters where they differ; else numbers in order. */
function codesFor(treatments: readonly string[]): readonly string[] {
  const names = treatments.map((name) => name.trim());
  if (names.every((name) => name.length > 0 && [...name].length <= LONGEST_CODE) && distinct(names))
    return names;
  const initials = names.map((name) => [...name][0]?.toUpperCase() ?? '');
  if (initials.every((initial) => /\p{L}/u.test(initial)) && distinct(initials)) return initials;
  return treatments.map((_, index) => String(index + 1));
}

function distinct(texts: readonly string[]): boolean {
  return new Set(texts).size === texts.length;
}

/** A filled mark of half-width `radius` about a point; `hollow` for a strip that the answer does not use. */
export function markShape(mark: TreatmentMark, x: number, y: number, radius: number, hollow = false): Markup {
  const paint: Attributes = hollow
    ? { fill: INK.paper, stroke: mark.colour, 'stroke-width': 1.2 }
    : { fill: mark.colour, stroke: INK.paper, 'stroke-width': 0.8 };
  if (mark.form === 'disc') return element('circle', { cx: x, cy: y, r: radius, ...paint });
  return element('path', { d: outline(mark.form, x, y, radius), ...paint });
}

/** Sized so that the forms look alike in weight. */
function outline(form: Exclude<MarkForm, 'disc'>, x: number, y: number, r: number): string {
  switch (form) {
    case 'square':
      return closed(x, y, r * 0.9, [
        [-1, -1],
        [1, -1],
        [1, 1],
        [-1, 1],
      ]);
    case 'peak':
      return closed(x, y, r * 1.15, [
        [0, -1],
        [1, 0.8],
        [-1, 0.8],
      ]);
    case 'diamond':
      return closed(x, y, r * 1.2, [
        [0, -1],
        [1, 0],
        [0, 1],
        [-1, 0],
      ]);
    case 'funnel':
      return closed(x, y, r * 1.15, [
        [-1, -0.8],
        [1, -0.8],
        [0, 1],
      ]);
    case 'bar':
      return closed(x, y, r * 1.15, [
        [-1, -0.5],
        [1, -0.5],
        [1, 0.5],
        [-1, 0.5],
      ]);
    case 'hourglass':
      return closed(x, y, r * 1.1, [
        [-1, -1],
        [1, -1],
        [-1, 1],
        [1, 1],
      ]);
    case 'half':
      return closed(x, y, r * 1.15, [
        [-1, 0.5],
        [-0.7, -0.25],
        [0, -0.6],
        [0.7, -0.25],
        [1, 0.5],
      ]);
  }
}

function closed(
  x: number,
  y: number,
  scale: number,
  corners: readonly (readonly [number, number])[],
): string {
  return `M${corners.map(([dx, dy]) => `${pixels(x + dx * scale)} ${pixels(y + dy * scale)}`).join('L')}Z`;
}
