import { html, nothing, type TemplateResult } from 'lit';
import type { ColumnRole, RecognisedColumn, Recognition } from '../../intake/recognition.ts';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { HarvestFile, TrialDocument } from '../../trial/trial-document.ts';
import { columnRoleWords } from '../../words/column-role-words.ts';
import { type Choice, choiceField } from '../parts/fields.ts';
import { dispatch } from '../state/session.ts';
import { assumptionWords } from './column-assumptions.ts';
import { rolesOf, unitsOffered } from './column-units.ts';
import { factsOfFile } from './facts-of-file.ts';
import { yieldQuestions } from './yield-questions.ts';
import { zoneIsOpen, zonesOffered } from './zone-choice.ts';

type FileReading = AnalysisRun['recognitions'][number];

/** One harvest file: what each of its columns was understood as, what is asked, and what was answered. */
export function harvestFileSection(
  file: HarvestFile,
  reading: FileReading | null,
  current: TrialDocument,
): TemplateResult {
  const heading = `file-${current.harvestFiles.indexOf(file)}`;
  const recognition = reading?.recognition ?? null;
  const easting = recognition?.columns.find(({ role }) => role === 'longitude') ?? null;
  const isOpen = recognition !== null && (recognition.questions.length > 0 || zoneIsOpen(easting));
  return html`
    <section aria-labelledby=${heading} class="harvest-file">
      <h2 id=${heading}>${file.path}</h2>
      <p class="hint">${file.kind === 'points' ? 'Points of a yield monitor' : 'Weights taken by hand'}${recognition === null ? '' : `, ${recognition.headings.length} columns`}</p>
      ${recognition === null ? nothing : questions(file, recognition)}
      ${zoneIsOpen(easting) && easting !== null ? zoneQuestion(file, easting, current) : nothing}
      ${yieldQuestions(file, reading?.yieldHeading ?? null, current)} ${factsOfFile(file, recognition, current)}
      ${
        recognition === null
          ? nothing
          : html`
            <details ?open=${isOpen}>
              <summary>What each column was understood as</summary>
              ${columnsTable(file, recognition, heading, current)}
              ${recognition.unusedHeadings.length === 0 ? nothing : html`<p class="hint">Not used: ${recognition.unusedHeadings.join(', ')}.</p>`}
            </details>`
      }
      <p class="actions">
        <button type="button" class="plain" @click=${() => dispatch({ name: 'removeHarvestFile', path: file.path })}>
          Take this file out<span class="only-read">: ${file.path}</span>
        </button>
      </p>
    </section>
  `;
}

function questions(file: HarvestFile, recognition: Recognition): TemplateResult | typeof nothing {
  if (recognition.questions.length === 0) return nothing;
  return html`
    <div class="asked" role="group" aria-label="Questions about ${file.path}">
      ${recognition.questions.map(({ role, candidates }) =>
        choiceField({
          id: `asked-${file.path}-${role}`,
          label: `Which column is the ${columnRoleWords(role)}?`,
          value: '',
          choices: [
            { value: '', label: 'Please choose' },
            ...candidates.map((heading) => ({ value: heading, label: heading })),
          ],
          take: (heading) => (heading === '' ? undefined : chooseColumn(file, role, heading, null)),
        }),
      )}
    </div>
  `;
}

function zoneQuestion(
  file: HarvestFile,
  easting: RecognisedColumn,
  { strips }: TrialDocument,
): TemplateResult {
  return html`
    <div class="asked" role="group" aria-label="The map grid of ${file.path}">
      <p>Positions are in metres of a map grid, as in the column <strong>${easting.heading}</strong>:</p>
      ${choiceField({
        id: `zone-${file.path}`,
        label: 'In which zone of the UTM grid?',
        value: '',
        choices: [
          { value: '', label: 'Please choose' },
          ...zonesOffered(strips).map((zone) => ({ value: zone, label: zone })),
        ],
        take: (zone) => (zone === '' ? undefined : chooseColumn(file, 'longitude', easting.heading, zone)),
      })}
    </div>
  `;
}

function columnsTable(
  file: HarvestFile,
  recognition: Recognition,
  heading: string,
  current: TrialDocument,
): TemplateResult {
  const found = new Map(
    recognition.columns.filter(({ role }) => role !== 'response').map((c) => [c.role, c]),
  );
  const responses = recognition.columns.filter(({ role }) => role === 'response');
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-labelledby=${heading}>
      <table class="entry-table">
        <thead>
          <tr>
            <th scope="col">Quantity</th>
            <th scope="col">Column</th>
            <th scope="col">Unit in the file</th>
            <th scope="col">How this came about</th>
          </tr>
        </thead>
        <tbody>
          ${rolesOf(file.kind).map((role) => columnRow(file, recognition, role, found.get(role) ?? null, current))}
          ${responses.map(
            (column) => html`
              <tr>
                <th scope="row">another response</th>
                <td>${column.heading}</td>
                <td>${column.unit ?? ''}</td>
                <td class="quiet">analysed in its own right</td>
              </tr>
            `,
          )}
        </tbody>
      </table>
    </div>
  `;
}

function columnRow(
  file: HarvestFile,
  recognition: Recognition,
  role: ColumnRole,
  column: RecognisedColumn | null,
  { strips }: TrialDocument,
): TemplateResult {
  const chosen = file.columns[role];
  const words = columnRoleWords(role);
  const units = role === 'longitude' && file.kind === 'points' ? zonesOffered(strips) : unitsOffered(role);
  return html`
    <tr>
      <th scope="row">${words}</th>
      <td data-label="Column">
        ${choiceField({
          id: `column-${file.path}-${role}`,
          label: `Column for ${words}`,
          hiddenLabel: true,
          value: chosen?.heading ?? '',
          choices: headingChoices(recognition, chosen === undefined ? column : null),
          take: (heading) => chooseColumn(file, role, heading, null),
        })}
      </td>
      <td data-label="Unit in the file">
        ${
          units.length === 0 || column === null
            ? nothing
            : choiceField({
                id: `unit-${file.path}-${role}`,
                label: `Unit of ${words}`,
                hiddenLabel: true,
                value: chosen?.unit ?? '',
                choices: unitChoices(units, column, chosen?.unit ?? null),
                take: (unit) => chooseColumn(file, role, column.heading, unit === '' ? null : unit),
              })
        }
      </td>
      <td class="quiet">${howRead(column)}</td>
    </tr>
  `;
}

function headingChoices(recognition: Recognition, found: RecognisedColumn | null): readonly Choice<string>[] {
  const byMeaning = found === null ? 'found by meaning: none' : `${found.heading} (found by meaning)`;
  return [
    { value: '', label: byMeaning },
    ...recognition.headings
      .filter((heading) => heading.trim() !== '')
      .map((heading) => ({ value: heading, label: heading })),
  ];
}

function unitChoices(
  units: readonly string[],
  column: RecognisedColumn,
  chosen: string | null,
): readonly Choice<string>[] {
  const standing = column.unit === null ? 'not written in the file' : `${column.unit} (as written)`;
  const others = chosen === null || units.includes(chosen) ? units : [chosen, ...units];
  return [
    { value: '', label: chosen === null ? standing : 'as written in the file' },
    ...others.map((unit) => ({ value: unit, label: unit })),
  ];
}

function howRead(column: RecognisedColumn | null): string {
  if (column === null) return 'not in this file';
  const readAs = column.readAs === null ? '' : `read as ${column.readAs}`;
  return [readAs, column.chosenByUser ? 'chosen by you' : '', assumptionWords(column.assumption)]
    .filter((part) => part !== '')
    .join('; ');
}

function chooseColumn(file: HarvestFile, role: ColumnRole, heading: string, unit: string | null): void {
  const { [role]: _before, ...others } = file.columns;
  const columns = heading === '' ? others : { ...others, [role]: { heading, unit } };
  dispatch({ name: 'changeHarvestFile', path: file.path, changes: { columns } });
}
