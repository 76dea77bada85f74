import { html, nothing, type TemplateResult } from 'lit';
import type { ColumnRole, Recognition } from '../../intake/recognition.ts';
import type { HarvestFile, TrialDocument } from '../../trial/trial-document.ts';
import { textField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { dispatch } from '../state/session.ts';

const CARRIERS: readonly ColumnRole[] = ['yield', 'massFlow', 'mass', 'weight'];

/** What holds for one file alone: who and what harvested it, what its scale said, what its bushels weigh. */
export function factsOfFile(
  file: HarvestFile,
  recognition: Recognition | null,
  { harvestFiles }: TrialDocument,
): TemplateResult {
  const isPoints = file.kind === 'points';
  return html`
    ${inBushels(recognition) ? bushelField(file) : nothing}
    ${
      isPoints
        ? html`
          <details>
            <summary>Machine, operator, day and calibration: ${factsSaid(file)}</summary>
            <p class="hint">
              Said so that a machine, an operator or a day that goes with a treatment is noticed. Blank: as columns and
              dates of the file say.
            </p>
            <div class="field-grid">
              ${factField(file, 'machine', 'Machine', harvestFiles)}
              ${factField(file, 'operator', 'Operator', harvestFiles)}
              ${factField(file, 'day', 'Day of harvest', harvestFiles)}
              ${calibrationFields(file)}
            </div>
          </details>`
        : nothing
    }
  `;
}

/** What was said of the file, for the folded heading. */
function factsSaid({ machine, operator, day, calibrationFactor }: HarvestFile): string {
  const factor = calibrationFactor == null ? null : `masses times ${calibrationFactor}`;
  const said = [machine, operator, day, factor].filter((fact) => fact != null && fact !== '');
  return said.length === 0 ? 'as the file says' : said.join(', ');
}

function inBushels(recognition: Recognition | null): boolean {
  const read = recognition?.columns.filter(({ role }) => CARRIERS.includes(role)) ?? [];
  return read.some(({ readAs }) => readAs !== null && /^bu\b/.test(readAs));
}

function bushelField(file: HarvestFile): TemplateResult {
  const take = (kgPerBushel: number | null) => change(file, { kgPerBushel });
  return html`
    <div class="asked" role="group" aria-label="About the bushels in ${file.path}">
      <sv-number class="field" label="A bushel weighs, in this file" quantity="mass" blank="the crop’s own"
        hint="As the monitor counted it. Matters where another file gives mass, or the crop has no trade bushel."
        .value=${file.kgPerBushel ?? null} .take=${take}></sv-number>
    </div>
  `;
}

function factField(
  file: HarvestFile,
  key: 'machine' | 'operator' | 'day',
  label: string,
  all: readonly HarvestFile[],
): TemplateResult {
  const others = all.flatMap((other) => (other[key] ? [other[key]] : []));
  return textField({
    id: `${key}-${all.indexOf(file)}`,
    label,
    value: file[key] ?? '',
    suggestions: [...new Set(others)],
    take: (text) => void change(file, { [key]: text.trim() === '' ? null : text.trim() }),
  });
}

function calibrationFields(file: HarvestFile): TemplateResult {
  const factor = file.calibrationFactor ?? null;
  const take = (calibrationFactor: number | null) => change(file, { calibrationFactor });
  return html`
    <sv-number class="field" label="Multiply masses by" quantity="plain" blank="as recorded"
      hint="True mass over what the monitor said, from a weighed load of this machine."
      .value=${factor} .take=${take}></sv-number>
    ${
      factor === null
        ? nothing
        : textField({
            id: `calibration-from-${file.path}`,
            label: 'Where this factor comes from',
            value: file.calibrationFrom ?? '',
            take: (text) => void change(file, { calibrationFrom: text.trim() === '' ? null : text.trim() }),
          })
    }
  `;
}

function change(file: HarvestFile, changes: Partial<Omit<HarvestFile, 'path'>>): boolean {
  return dispatch({ name: 'changeHarvestFile', path: file.path, changes });
}
