import { type Attributes, element, type Markup, textNode } from './svg-markup.ts';

/**
 * How wide a text will be, without a screen to measure it on. Widths are in em and err on the wide side of the
 * usual sans-serif faces, so that what fits here fits everywhere.
 */
const WIDTHS: readonly (readonly [string, number])[] = [
  ["iljI|!.,:;' ", 0.34],
  ['tfr()[]-/"', 0.43],
  ['mMW%@', 0.98],
  ['w&', 0.85],
  ['ABCDEFGHKNOPQRSTUVXYZ', 0.73],
];
const OTHER_WIDTH = 0.64;
const WIDE_SCRIPT_WIDTH = 1.02;
const BOLD = 1.1;

const WIDTH_OF = new Map(WIDTHS.flatMap(([letters, width]) => [...letters].map((letter) => [letter, width])));

export function textWidthPx(text: string, sizePx: number, bold = false): number {
  let em = 0;
  for (const letter of text) em += WIDTH_OF.get(letter) ?? widthOfOther(letter);
  return em * sizePx * (bold ? BOLD : 1);
}

/** Han, kana, hangul and pictographs fill their square. */
function widthOfOther(letter: string): number {
  return (letter.codePointAt(0) ?? 0) >= 0x2e80 ? WIDE_SCRIPT_WIDTH : OTHER_WIDTH;
}

/** The text, or as much of it as fits with an ellipsis. */
export function fitText(text: string, maxWidthPx: number, sizePx: number, bold = false): string {
  if (textWidthPx(text, sizePx, bold) <= maxWidthPx) return text;
  const letters = [...text];
  while (letters.length > 0 && textWidthPx(`${letters.join('')}…`, sizePx, bold) > maxWidthPx) letters.pop();
  return letters.length === 0 ? '' : `${letters.join('').trimEnd()}…`;
}

/** Breaks at spaces into at most `maxLines` lines; what is left over ends in an ellipsis. */
export function wrapText(
  text: string,
  maxWidthPx: number,
  sizePx: number,
  maxLines: number,
  bold = false,
): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((part) => part !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || textWidthPx(longer, sizePx, bold) <= maxWidthPx) {
      line = longer;
      continue;
    }
    lines.push(line);
    line = word;
  }
  if (line !== '') lines.push(line);
  const kept = lines.slice(0, maxLines);
  if (lines.length > maxLines) kept[maxLines - 1] = lines.slice(maxLines - 1).join(' ');
  return kept.map((part) => fitText(part, maxWidthPx, sizePx, bold));
}

export interface TextStyle {
  readonly sizePx: number;
  readonly fill?: string;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
}

export function textAt(x: number, y: number, text: string, style: TextStyle, more: Attributes = {}): Markup {
  return element(
    'text',
    {
      x,
      y,
      'font-size': style.sizePx,
      fill: style.fill ?? null,
      'font-weight': style.bold ? 'bold' : null,
      'font-style': style.italic ? 'italic' : null,
      'text-anchor': style.anchor === undefined || style.anchor === 'start' ? null : style.anchor,
      ...more,
    },
    textNode(text),
  );
}
