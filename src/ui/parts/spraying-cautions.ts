import { html, type TemplateResult } from 'lit';
import { DRONE_CAUTIONS, sprayingCautions } from '../../words/cautions.ts';

/**
 * Stands at the foot of every page on which spraying is planned or recorded: the first caution always in sight, the
 * others one step away.
 */
export function sprayingCautionsPanel(): TemplateResult {
  const [label = '', ...others] = sprayingCautions(false);
  return html`
    <section class="cautions" aria-labelledby="cautions-heading">
      <h2 id="cautions-heading">Before anything is sprayed</h2>
      <p>${label}</p>
      <details>
        <summary>All cautions, for ground rigs and drones</summary>
        <ul>${others.map((caution) => html`<li>${caution}</li>`)}</ul>
        <h3>Where a drone sprays</h3>
        <ul>${DRONE_CAUTIONS.map((caution) => html`<li>${caution}</li>`)}</ul>
      </details>
    </section>
  `;
}
