import { INK } from './ink.ts';
import type { Markup } from './svg-markup.ts';
import { fitText, textAt, textWidthPx } from './text-fitting.ts';

export interface LegendItem {
  readonly label: string;
  /** Draws the key about this point. */
  readonly key: (x: number, y: number) => Markup;
}

export interface Legend {
  readonly parts: readonly Markup[];
  readonly heightPx: number;
}

const SIZE = 12;
const ROW = 19;
const KEY = 22;
const GAP = 16;

/** Runs from left to right and breaks into rows; a label longer than a row is cut. */
export function legend(items: readonly LegendItem[], x: number, y: number, widthPx: number): Legend {
  const parts: Markup[] = [];
  let across = 0;
  let row = 0;
  for (const item of items) {
    const label = fitText(item.label, widthPx - KEY, SIZE);
    const width = KEY + textWidthPx(label, SIZE);
    if (across > 0 && across + width > widthPx) {
      across = 0;
      row += 1;
    }
    const middle = y + row * ROW + ROW / 2;
    parts.push(item.key(x + across + KEY / 2 - 3, middle));
    parts.push(textAt(x + across + KEY, middle + 4, label, { sizePx: SIZE, fill: INK.black }));
    across += width + GAP;
  }
  return { parts, heightPx: items.length === 0 ? 0 : (row + 1) * ROW };
}
