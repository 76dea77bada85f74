import { html, LitElement, type PropertyDeclarations, type TemplateResult, unsafeCSS } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { HANDOUT_CSS, type HandoutFigures, handoutBody, handoutFigures } from '../../export/handout-page.ts';
import type { ReportModel } from '../../findings/report-model.ts';
import { inTurn } from '../state/turns.ts';

/**
 * The very page that is exported, with the very sheet it is exported with. It lives in a shadow root, so that
 * neither the app's styles nor the page's reach the other.
 */
export class HandoutSheet extends LitElement {
  static override readonly styles = unsafeCSS(HANDOUT_CSS);
  static override readonly properties: PropertyDeclarations = {
    report: { attribute: false },
    season: { attribute: false },
  };

  declare report: ReportModel | null;
  declare season: string | null;
  #drawn: { readonly report: ReportModel; readonly figures: HandoutFigures | null } | null = null;

  constructor() {
    super();
    this.report = null;
    this.season = null;
  }

  /** The pictures are drawn in one turn, and the sheet is laid out in another. */
  protected override async scheduleUpdate(): Promise<void> {
    await inTurn(() => void (this.report && this.#figures(this.report)));
    await inTurn(() => super.scheduleUpdate());
  }

  #figures(report: ReportModel): HandoutFigures | null {
    if (this.#drawn?.report !== report) this.#drawn = { report, figures: handoutFigures(report) };
    return this.#drawn.figures;
  }

  protected override render(): TemplateResult {
    const { report, season } = this;
    if (report === null) return html``;
    return html`${unsafeHTML(handoutBody(report, this.#figures(report), { season }))}`;
  }
}

customElements.define('sv-handout-sheet', HandoutSheet);
