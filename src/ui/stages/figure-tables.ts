import { html, type TemplateResult } from 'lit';

/** The parts that tables of figures are made of; wide ones scroll within their frame. */
export function table(label: string, content: TemplateResult): TemplateResult {
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-label=${label}>
      <table class="figures-table">${content}</table>
    </div>
  `;
}

/** Over a column of numbers; `wrapped` where the heading is much longer than they are. */
type NumberHeading = { readonly number: string } | { readonly wrapped: string };

export function head(columns: readonly (string | NumberHeading)[]): TemplateResult {
  return html`
    <thead>
      <tr>
        ${columns.map(heading)}
      </tr>
    </thead>
  `;
}

function heading(column: string | NumberHeading): TemplateResult {
  if (typeof column === 'string') return html`<th scope="col">${column}</th>`;
  return 'number' in column
    ? html`<th scope="col" class="number">${column.number}</th>`
    : html`<th scope="col" class="number wrap">${column.wrapped}</th>`;
}

export function numbers(texts: readonly (string | number)[]): TemplateResult {
  return html`${texts.map((text) => html`<td class="number">${text}</td>`)}`;
}

export function opening(summary: string, content: TemplateResult): TemplateResult {
  return html`<details><summary>${summary}</summary>${content}</details>`;
}
