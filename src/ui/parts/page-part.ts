import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { TurnElement } from '../state/turn-element.ts';

type Draw = () => TemplateResult | typeof nothing;

/** A part of a page that is drawn in a turn of its own. */
class PagePart extends TurnElement {
  static override readonly properties: PropertyDeclarations = { draw: { attribute: false } };

  declare draw: Draw | null;

  constructor() {
    super();
    this.draw = null;
  }

  protected override render(): TemplateResult | typeof nothing {
    return this.draw?.() ?? nothing;
  }
}

/** What the part reads of signals it reads while it is drawn, and is drawn again alone when they change. */
export function part(draw: Draw): TemplateResult {
  return html`<sv-part .draw=${draw}></sv-part>`;
}

/** A long list, some items a turn. */
export function inParts<T>(
  items: readonly T[],
  itemsAPart: number,
  draw: (item: T) => TemplateResult,
): readonly TemplateResult[] {
  const parts = Math.ceil(items.length / itemsAPart);
  return Array.from({ length: parts }, (_, index) =>
    part(() => html`${items.slice(index * itemsAPart, (index + 1) * itemsAPart).map(draw)}`),
  );
}

customElements.define('sv-part', PagePart);
