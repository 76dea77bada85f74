import { describe, expect, test } from 'vitest';
import { textWidthPx } from '../../src/figures/text-fitting.ts';
import { figuresOf, SAMPLE_CHOICES, WIDTHS } from './sample-figures.ts';
import { allElements, readXml, textOf, type XmlElement } from './xml-reader.ts';

const CASES = Object.entries(SAMPLE_CHOICES).flatMap(([name, choice]) =>
  WIDTHS.flatMap((widthPx) =>
    Object.entries(figuresOf(choice, widthPx)).map(([figure, svg]) => ({ name, widthPx, figure, svg })),
  ),
);

describe.each(CASES)('$figure, $name, $widthPx px', ({ svg }) => {
  const root = readXml(svg);

  test('is well-formed, named and described (WAI-ARIA: role img takes its name from aria-labelledby)', () => {
    expect(root.name).toBe('svg');
    expect(root.attributes.role).toBe('img');
    const ids = allElements(root).flatMap(({ attributes }) => attributes.id ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of root.attributes['aria-labelledby']?.split(' ') ?? []) expect(ids).toContain(id);
  });

  test('holds no number that is none, and nothing that a strict style-src or script-src would block', () => {
    expect(svg).not.toMatch(/NaN|undefined|Infinity|\[object/);
    const elements = allElements(root);
    expect(elements.map(({ name }) => name)).not.toContain('style');
    expect(elements.map(({ name }) => name)).not.toContain('script');
    expect(elements.map(({ name }) => name)).not.toContain('img');
    for (const { attributes } of elements) {
      expect(Object.keys(attributes).filter((key) => key === 'style' || key.startsWith('on'))).toEqual([]);
    }
  });

  test('keeps every text inside, and no two texts on each other', () => {
    const [, , width = 0, height = 0] = (root.attributes.viewBox ?? '').split(' ').map(Number);
    const boxes = allElements(root)
      .filter(({ name }) => name === 'text')
      .map(boxOf);
    for (const box of boxes) {
      expect(box.left, box.text).toBeGreaterThanOrEqual(0);
      expect(box.right, box.text).toBeLessThanOrEqual(width);
      expect(box.top, box.text).toBeGreaterThanOrEqual(0);
      expect(box.bottom, box.text).toBeLessThanOrEqual(height);
    }
    expect(overlaps(boxes)).toEqual([]);
  });
});

interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function boxOf(element: XmlElement): TextBox {
  const { attributes } = element;
  const text = textOf(element);
  const size = Number(attributes['font-size']);
  const width = textWidthPx(text, size, attributes['font-weight'] === 'bold');
  const before = { middle: width / 2, end: width }[attributes['text-anchor'] ?? ''] ?? 0;
  const left = Number(attributes.x) - before;
  const y = Number(attributes.y);
  return { text, left, right: left + width, top: y - size * 0.72, bottom: y + size * 0.2 };
}

function overlaps(boxes: readonly TextBox[]): readonly string[] {
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `${a.text} / ${b.text}`),
  );
}
