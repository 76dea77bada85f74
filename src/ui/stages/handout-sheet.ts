import { html, LitElement, type PropertyDeclarations, type TemplateResult, unsafeCSS } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import { HANDOUT_CSS, handoutBody, handoutFigures } from '../../export/handout-page.ts';
import type { ReportModel } from '../../findings/report-model.ts';

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

  constructor() {
    super();
    this.report = null;
    this.season = null;
  }

  protected override render(): TemplateResult {
    const { report, season } = this;
    if (report === null) return html``;
    return html`${unsafeHTML(handoutBody(report, handoutFigures(report), { season }))}`;
  }
}

customElements.define('sv-handout-sheet', HandoutSheet);
