import { html, nothing, type TemplateResult } from 'lit';
import type { LayoutReading } from '../../pipeline/layout-reading.ts';
import type { LayoutFile, TrialDocument } from '../../trial/trial-document.ts';
import { problemSentence } from '../../words/problem-sentences.ts';
import { saidProblem } from '../notice-panel.ts';
import { choiceField } from '../parts/fields.ts';
import { filePicker } from '../parts/file-picker.ts';
import { rereadLayout } from '../state/opening.ts';
import { counted } from '../state/readiness.ts';

type ChosenRole = keyof LayoutFile['properties'];
type Role = ChosenRole | 'place';

const ROLE_LABELS: Readonly<Record<Role, string>> = {
  treatment: 'The treatment',
  block: 'The block (replicate)',
  strip: 'The strip’s name',
  place: 'Place across the field',
};

const BY_MEANING = '';

/** Which property of the layout file became what, with the file's own names to choose others from. */
export function layoutFileSection(
  current: TrialDocument,
  file: LayoutFile,
  read: LayoutReading | null,
): TemplateResult {
  const isSettled = current.strips.length > 0;
  return html`
    <section aria-labelledby="properties-heading" class=${isSettled ? '' : 'asked'}>
      <h2 id="properties-heading">How ${file.path} was read</h2>
      <p>${isSettled ? takenSays(current) : 'Its strips cannot be drawn yet.'}</p>
      ${isSettled ? nothing : html`<ul class="problems">${(read?.problems ?? []).map((one) => saidProblem({ ...one, ...problemSentence(one) }))}</ul>`}
      ${read === null ? notAtHand(file) : propertyTable(file, read)}
      <p class="actions">${filePicker('Choose another layout')}</p>
    </section>
  `;
}

function takenSays({ strips, treatments, blocks }: TrialDocument): string {
  const inBlocks = blocks.length === 0 ? 'no blocks' : counted(blocks.length, 'block');
  return `${counted(strips.length, 'strip')}, ${counted(treatments.length, 'treatment')}, ${inBlocks}.`;
}

function notAtHand(file: LayoutFile): TemplateResult {
  return html`<p class="hint">To choose other properties, drop ${file.path} on this page: this browser does not hold it, or is reading it.</p>`;
}

function propertyTable(file: LayoutFile, read: LayoutReading): TemplateResult {
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-labelledby="properties-heading">
      <table class="entry-table">
        <thead>
          <tr>
            <th scope="col">What is needed</th>
            <th scope="col">Property of the file</th>
            <th scope="col">How this came about</th>
          </tr>
        </thead>
        <tbody>${(Object.keys(ROLE_LABELS) as Role[]).map((role) => propertyRow(role, file, read))}</tbody>
      </table>
    </div>
    <p class="hint">
      ${unusedSays(read)} Another choice reads the file anew and replaces what was changed in the table of strips; undo
      brings it back.
    </p>
  `;
}

function propertyRow(role: Role, file: LayoutFile, read: LayoutReading): TemplateResult {
  const taken = read.properties?.[role] ?? null;
  return html`
    <tr>
      <th scope="row">${ROLE_LABELS[role]}</th>
      <td data-label="Property">${role === 'place' ? (taken?.property ?? 'none') : propertyChoice(role, file, read)}</td>
      <td class="quiet">${cameAbout(role, file, read)}</td>
    </tr>
  `;
}

function propertyChoice(role: ChosenRole, file: LayoutFile, read: LayoutReading): TemplateResult {
  const taken = read.properties?.[role] ?? null;
  const found =
    taken === null || taken.chosenByUser ? 'found by its meaning' : `found by its meaning: ${taken.property}`;
  const chosen = file.properties[role];
  const names =
    chosen === null || read.propertyNames.includes(chosen)
      ? read.propertyNames
      : [chosen, ...read.propertyNames];
  return choiceField({
    id: `property-${role}`,
    label: ROLE_LABELS[role],
    hiddenLabel: true,
    value: chosen ?? BY_MEANING,
    choices: [{ value: BY_MEANING, label: found }, ...names.map((name) => ({ value: name, label: name }))],
    take: (name) => void rereadLayout({ ...file.properties, [role]: name === BY_MEANING ? null : name }),
  });
}

function cameAbout(role: Role, file: LayoutFile, read: LayoutReading): string {
  const taken = read.properties?.[role] ?? null;
  if (taken?.chosenByUser || (role !== 'place' && file.properties[role] !== null)) return 'chosen by you';
  if (taken !== null) return 'its name says so';
  if (read.properties === null) return 'not settled';
  return role === 'treatment' ? 'not found' : 'no property says it';
}

function unusedSays({ properties, propertyNames }: LayoutReading): string {
  const used = new Set(Object.values(properties ?? {}).flatMap((taken) => taken?.property ?? []));
  const unused = propertyNames.filter((name) => !used.has(name));
  return properties === null || unused.length === 0 ? '' : `Not used: ${unused.join(', ')}.`;
}
