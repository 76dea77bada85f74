import { html, nothing, type TemplateResult } from 'lit';
import type { ReportModel } from '../../findings/report-model.ts';
import { fixed } from '../../words/number-formats.ts';
import { LOAD_USE_WORDS } from '../../words/scale-sentences.ts';
import { head, numbers, opening, table } from './figure-tables.ts';

/** Scale beside monitor, load by load, where something was weighed. */
export function scaleSection(weighed: ReportModel['weighed']): TemplateResult | typeof nothing {
  if (weighed === null) return nothing;
  const { loads, unit, levelFactor, meaning } = weighed;
  return html`
    <section aria-labelledby="scale-heading">
      <h2 id="scale-heading">Scale beside monitor</h2>
      <p>${meaning}</p>
      ${
        levelFactor === null
          ? nothing
          : html`<p>Strips without a weight of their own were multiplied by ${fixed(levelFactor, 3)}.</p>`
      }
      ${opening(
        'Load by load',
        table(
          'Load by load, over the same passes before any screen',
          html`
            ${head(['Strips', 'Treatment', 'Sets', { number: `Monitor (${unit})` }, { number: `Scale (${unit})` }, { number: 'Monitor / scale' }])}
            <tbody>
              ${loads.map(
                ({ strips, treatments, use, monitor, scale, ratio }) => html`
                  <tr>
                    <th scope="row">${strips.join(', ')}</th>
                    <td>${treatments.join(', ')}</td>
                    <td>${LOAD_USE_WORDS[use]}</td>
                    ${numbers([fixed(monitor, 2), fixed(scale, 2), ratio === null ? 'none' : fixed(ratio, 3)])}
                  </tr>
                `,
              )}
            </tbody>
          `,
        ),
      )}
    </section>
  `;
}
