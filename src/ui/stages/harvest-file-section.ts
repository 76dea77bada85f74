import { html, nothing, type TemplateResult } from 'lit';
import type { RecognisedColumn } from '../../intake/recognition.ts';
import type { AnalysisRun } from '../../pipeline/analyse-trial.ts';
import type { HarvestFile, TrialDocument } from '../../trial/trial-document.ts';
import { choiceField } from '../parts/fields.ts';
import { part } from '../parts/page-part.ts';
import { dispatch } from '../state/session.ts';
import { rolesOf } from './column-units.ts';
import { type ChosenColumns, chooseColumn, columnQuestions, columnsTable } from './columns-table.ts';
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
      <p class="hint">${file.kind === 'points' ? 'Points of a yield monitor' : 'Weights or samples taken by hand'}${recognition === null ? '' : `, ${recognition.headings.length} columns`}</p>
      ${recognition === null ? nothing : columnQuestions(columnsOf(file), recognition)}
      ${zoneIsOpen(easting) && easting !== null ? zoneQuestion(file, easting, current) : nothing}
      ${part(() => yieldQuestions(file, reading?.yieldHeading ?? null, current))} ${part(() => factsOfFile(file, recognition, current))}
      ${
        recognition === null
          ? nothing
          : html`
            <details ?open=${isOpen}>
              <summary>What each column was understood as</summary>
              ${columnsTable(columnsOf(file), recognition, heading, current)}
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

function columnsOf(file: HarvestFile): ChosenColumns {
  const { path, columns, kind } = file;
  const take: ChosenColumns['take'] = (chosen) =>
    dispatch({ name: 'changeHarvestFile', path, changes: { columns: chosen } });
  return { path, columns, roles: rolesOf(kind), take };
}

function zoneQuestion(
  file: HarvestFile,
  easting: RecognisedColumn,
  { strips }: TrialDocument,
): TemplateResult {
  return html`
    <div class="asked" role="group" aria-label="The map grid of ${file.path}">
      <p>Positions are in metres of a map grid, as in the column <strong>${easting.heading}</strong>:</p>
      <div class="field-grid">${choiceField({
        id: `zone-${file.path}`,
        label: 'In which zone of the UTM grid?',
        value: '',
        choices: [
          { value: '', label: 'Please choose' },
          ...zonesOffered(strips).map((zone) => ({ value: zone, label: zone })),
        ],
        take: (zone) =>
          zone === '' ? undefined : chooseColumn(columnsOf(file), 'longitude', easting.heading, zone),
      })}</div>
    </div>
  `;
}
