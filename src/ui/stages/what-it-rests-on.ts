import { html, nothing, type TemplateResult } from 'lit';
import type { ReportModel } from '../../findings/report-model.ts';
import { sentencesByFile } from '../../words/assumption-sentences.ts';
import { REPORT_CAUTION } from '../../words/cautions.ts';
import { saidProblem } from '../notice-panel.ts';

const SHOWN_OF_HASH = 12;

/** What was taken for granted, what was noticed, which files and settings went in. */
export function whatItRestsOn(report: ReportModel): TemplateResult {
  const { trial, problems } = report;
  return html`
    <section aria-labelledby="rests-heading">
      <h2 id="rests-heading">What it rests on</h2>
      ${
        trial.assumptions.length === 0
          ? nothing
          : html`
            <h3>Taken for granted, since nobody said otherwise</h3>
            ${sentencesByFile(
              trial.assumptions,
              trial.files.map(({ name }) => name),
            ).map(
              ({ file, sentences }) => html`
                ${file === null ? nothing : html`<p class="of-file">${file}</p>`}
                <ul>${sentences.map((sentence) => html`<li>${sentence}</li>`)}</ul>
              `,
            )}`
      }
      ${
        problems.length === 0
          ? nothing
          : html`
            <h3>Noticed on the way</h3>
            <ul class="problems">${problems.map(saidProblem)}</ul>`
      }
      <details>
        <summary>Files and settings</summary>
        <ul>
          ${trial.files.map(({ name, role, sha256 }) => html`<li>${name} (${role}), SHA-256 <code>${sha256.slice(0, SHOWN_OF_HASH)}…</code></li>`)}
        </ul>
        <dl class="settings">
          ${Object.entries(trial.settings).map(([path, value]) => html`<div><dt><code>${path}</code></dt><dd>${value}</dd></div>`)}
        </dl>
        <p class="quiet">Made by ${report.madeBy}.</p>
      </details>
      <p class="quiet">${REPORT_CAUTION}</p>
    </section>
  `;
}
