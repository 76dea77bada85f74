import { html, nothing, type TemplateResult } from 'lit';
import type { ColumnRole, RecognisedColumn, Recognition } from '../../intake/recognition.ts';
import type { ColumnChoice, TrialDocument } from '../../trial/trial-document.ts';
import { columnRoleWords } from '../../words/column-role-words.ts';
import { type Choice, choiceField } from '../parts/fields.ts';
import { rowsInTurns } from '../parts/late-rows.ts';
import { assumptionWords } from './column-assumptions.ts';
import { unitsOffered } from './column-units.ts';
import { zonesOffered } from './zone-choice.ts';

const COLUMNS_A_TURN = 3;

/** A file whose columns a person may choose: those chosen, the quantities it may hold, and what takes a new choice. */
export interface ChosenColumns {
  readonly path: string;
  readonly columns: Readonly<Record<string, ColumnChoice>>;
  readonly roles: readonly ColumnRole[];
  readonly take: (columns: Record<string, ColumnChoice>) => void;
}

/** Columns that answer equally well: which of them is meant? */
export function columnQuestions(
  file: ChosenColumns,
  recognition: Recognition,
): TemplateResult | typeof nothing {
  if (recognition.questions.length === 0) return nothing;
  return html`
    <div class="asked" role="group" aria-label="Questions about ${file.path}">
      <div class="field-grid">${recognition.questions.map(({ role, candidates }) =>
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
      )}</div>
    </div>
  `;
}

/** What each quantity was read from, and in which unit; each may be chosen otherwise. */
export function columnsTable(
  file: ChosenColumns,
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
          ${rowsInTurns(file.roles, COLUMNS_A_TURN, (role) => columnRow(file, recognition, role, found.get(role) ?? null, current))}
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
  file: ChosenColumns,
  recognition: Recognition,
  role: ColumnRole,
  column: RecognisedColumn | null,
  { strips }: TrialDocument,
): TemplateResult {
  const chosen = file.columns[role];
  const words = columnRoleWords(role);
  const units = role === 'longitude' ? zonesOffered(strips) : unitsOffered(role);
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

export function chooseColumn(
  file: ChosenColumns,
  role: ColumnRole,
  heading: string,
  unit: string | null,
): void {
  const { [role]: _before, ...others } = file.columns;
  file.take(heading === '' ? others : { ...others, [role]: { heading, unit } });
}
