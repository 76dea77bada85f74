import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { download } from '../download.ts';
import { TurnElement } from '../state/turn-element.ts';
import { inTurn } from '../state/turns.ts';

const LEAST_PX = 300;

type Draw = (widthPx: number) => string;

interface Picture {
  readonly draw: Draw;
  readonly widthPx: number;
  readonly text: string;
}

/**
 * A figure laid out for the width at hand, drawn again when that changes; `draw` reads no signals. Figures come as SVG text of our own
 * figures room, where every word is escaped; no other text may be handed in here.
 */
export class FigureFrame extends TurnElement {
  static override readonly properties: PropertyDeclarations = {
    draw: { attribute: false },
    file: {},
    widthPx: { state: true },
  };

  declare draw: Draw | null;
  /** Name under which the figure can be saved; blank: it cannot. */
  declare file: string;
  declare widthPx: number;
  #resize: ResizeObserver | null = null;
  #picture: Picture | null = null;

  constructor() {
    super();
    this.draw = null;
    this.file = '';
    this.widthPx = 0;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#resize = new ResizeObserver(() => {
      this.widthPx = Math.max(LEAST_PX, Math.floor(this.clientWidth));
    });
    this.#resize.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize?.disconnect();
  }

  /** A large picture is drawn in one turn and put onto the page in another. */
  protected override async scheduleUpdate(): Promise<void> {
    await inTurn(() => void this.#drawn());
    await super.scheduleUpdate();
  }

  #drawn(): string | null {
    const { draw, widthPx } = this;
    if (draw === null || widthPx === 0) return null;
    if (this.#picture?.draw !== draw || this.#picture.widthPx !== widthPx)
      this.#picture = { draw, widthPx, text: draw(widthPx) };
    return this.#picture.text;
  }

  protected override render(): TemplateResult | typeof nothing {
    const picture = this.#drawn();
    if (picture === null) return nothing;
    return html`
      <figure>
        ${unsafeHTML(picture)}
        ${
          this.file === ''
            ? nothing
            : html`<figcaption>
              <button type="button" class="plain" @click=${() => download(this.file, picture, 'image/svg+xml')}>
                Save the picture (SVG)
              </button>
            </figcaption>`
        }
      </figure>
    `;
  }
}

customElements.define('sv-figure', FigureFrame);
