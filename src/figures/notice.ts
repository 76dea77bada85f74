import { INK } from './ink.ts';
import { drawing, type Markup } from './svg-markup.ts';
import { textAt, wrapText } from './text-fitting.ts';

const SIZE = 13;
const LINE = 18;
const EDGE = 12;

/** A figure that cannot be drawn says why, in its place. */
export function notice(widthPx: number, id: string, title: string, reason: string): string {
  const lines = wrapText(reason, widthPx - 2 * EDGE, SIZE, 8);
  const parts: Markup[] = [
    ...wrapText(title, widthPx - 2 * EDGE, SIZE + 1, 1, true).map((line) =>
      textAt(EDGE, 24, line, { sizePx: SIZE + 1, fill: INK.black, bold: true }),
    ),
    ...lines.map((line, index) => textAt(EDGE, 48 + index * LINE, line, { sizePx: SIZE, fill: INK.grey })),
  ];
  return drawing({ widthPx, heightPx: 48 + lines.length * LINE, id, title, description: reason }, ...parts);
}
