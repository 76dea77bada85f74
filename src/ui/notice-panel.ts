import { html, nothing, type TemplateResult } from 'lit';
import type { Problem } from '../trial/problem.ts';
import { problemSentence } from '../words/problem-sentences.ts';
import { notice } from './state/session.ts';

/** What was last said about an edit or a file: what is wrong, and what to do. */
export function noticePanel(): TemplateResult | typeof nothing {
  const said = notice.value;
  if (said === null) return nothing;
  const isGrave = said.problems.length === 0 || said.problems.some(({ severity }) => severity !== 'note');
  return html`
    <section class="notice ${isGrave ? '' : 'is-calm'}" role=${isGrave ? 'alert' : 'status'}>
      <p>${said.text}</p>
      ${said.problems.length === 0 ? nothing : html`<ul>${said.problems.map(problemItem)}</ul>`}
      <p class="actions"><button type="button" @click=${() => {
        notice.value = null;
      }}>Understood</button></p>
    </section>
  `;
}

/** Remarks have been seen when the user goes on; what stopped the work stays until it is understood. */
export function clearRemarks(): void {
  const said = notice.peek();
  if (
    said !== null &&
    said.problems.length > 0 &&
    said.problems.every(({ severity }) => severity !== 'error')
  ) {
    notice.value = null;
  }
}

function problemItem(problem: Problem): TemplateResult {
  return saidProblem({ ...problem, ...problemSentence(problem) });
}

export interface SaidProblem {
  readonly severity: Problem['severity'];
  readonly file: string | null;
  readonly row: number | null;
  readonly column: string | null;
  readonly message: string;
  readonly whatToDo: string;
}

const SEVERITY_WORDS = { error: 'Stops the work', warning: 'Look at this', note: 'For your notice' } as const;

export function saidProblem(problem: SaidProblem): TemplateResult {
  const place = [
    problem.file,
    problem.row === null ? null : `row ${problem.row}`,
    problem.column === null ? null : `column “${problem.column}”`,
  ].filter((part) => part !== null);
  return html`
    <li class="problem is-${problem.severity}">
      <span class="only-read">${SEVERITY_WORDS[problem.severity]}:</span>
      ${place.length === 0 ? nothing : html`<span class="problem-place">${place.join(', ')}</span>`}
      <span>${problem.message}</span> <span class="what-to-do">${problem.whatToDo}</span>
    </li>
  `;
}
