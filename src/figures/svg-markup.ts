/**
 * SVG as text. Every attribute value and every text passes through here and is escaped once; numbers are rounded
 * to a hundredth of a pixel and refused when not finite, so that no figure can carry NaN. Presentation attributes
 * only: a strict Content-Security-Policy blocks style attributes and inline sheets.
 */
export type AttributeValue = string | number | null;
export type Attributes = Readonly<Record<string, AttributeValue>>;

/** A piece of markup that is already escaped. Only this file makes one. */
export interface Markup {
  readonly markup: string;
}

export interface Drawing {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Prefix of every id within the figure; two figures on one page need two. */
  readonly id: string;
  readonly title: string;
  readonly description: string;
}

export function element(name: string, attributes: Attributes, ...children: readonly Markup[]): Markup {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== null)
    .map(([key, value]) => ` ${key}="${attributeText(name, key, value)}"`)
    .join('');
  if (children.length === 0) return { markup: `<${name}${written}/>` };
  return { markup: `<${name}${written}>${children.map((child) => child.markup).join('')}</${name}>` };
}

export function textNode(text: string): Markup {
  return { markup: escapeMarkup(text) };
}

/** Printable ASCII but & < > " ': most of a figure's text. */
const AS_IT_IS = /^[ !#-%(-;=?-~]*$/;

/** Escapes for text and attribute values alike, and leaves out the control characters that XML 1.0 forbids. */
export function escapeMarkup(text: string): string {
  if (AS_IT_IS.test(text)) return text;
  return [...text]
    .filter((character) => isXmlCharacter(character.codePointAt(0) ?? 0))
    .join('')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** Char production of XML 1.0, section 2.2. A lone surrogate is no character. */
function isXmlCharacter(code: number): boolean {
  if (code === 0x9 || code === 0xa || code === 0xd) return true;
  if (code >= 0xd800 && code <= 0xdfff) return false;
  return code >= 0x20 && code !== 0xfffe && code !== 0xffff;
}

function attributeText(name: string, key: string, value: AttributeValue): string {
  if (typeof value !== 'number') return escapeMarkup(value ?? '');
  if (!Number.isFinite(value))
    throw new RangeError(`<${name}> ${key}: expected a finite number, got ${value}`);
  return pixels(value);
}

/** A coordinate as text, to a hundredth; for paths, whose data is one string. */
export function pixels(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`expected a finite coordinate, got ${value}`);
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** The whole figure on white paper, with its name and description for those who do not see it. */
export function drawing(about: Drawing, ...parts: readonly Markup[]): string {
  const { widthPx, heightPx, id } = about;
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${pixels(widthPx)} ${pixels(heightPx)}`,
      width: widthPx,
      height: heightPx,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-desc`,
      'font-family': 'sans-serif',
    },
    element('title', { id: `${id}-title` }, textNode(about.title)),
    element('desc', { id: `${id}-desc` }, textNode(about.description)),
    element('rect', { width: widthPx, height: heightPx, fill: '#ffffff' }),
    ...parts,
  ).markup;
}
