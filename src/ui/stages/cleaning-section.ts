import { html, type TemplateResult } from 'lit';
import type { HarvestSettings, TrialDocument } from '../../trial/trial-document.ts';
import type { Quantity } from '../edge-units.ts';
import '../parts/number-field.ts';
import { dispatch } from '../state/session.ts';

interface SettingField {
  readonly key: Exclude<keyof HarvestSettings, 'exclusions' | (typeof SWITCHES)[number]['key']>;
  readonly label: string;
  readonly quantity: Quantity;
  /** What a blank means; absent: a number is needed. */
  readonly blank?: string;
  readonly hint?: string;
}

/** Grouped by what they look at, in the order in which reasons are given. */
const GROUPS: readonly { readonly heading: string; readonly fields: readonly SettingField[] }[] = [
  {
    heading: 'Where in the strip',
    fields: [
      {
        key: 'sideMarginM',
        label: 'Left out along each side',
        quantity: 'length',
        hint: 'At most half of what the strip is wider than the header.',
      },
      {
        key: 'endMarginM',
        label: 'Left out at each end',
        quantity: 'length',
        hint: 'Turns, filling and emptying.',
      },
      { key: 'headerWidthM', label: 'Header width', quantity: 'length', blank: 'as recorded in the file' },
      {
        key: 'widthShareMin',
        label: 'Least share of the header cut',
        quantity: 'plain',
        blank: 'not looked at',
        hint: '0.9 leaves out what was cut less than nine tenths wide.',
      },
    ],
  },
  {
    heading: 'How the combine moved',
    fields: [
      { key: 'speedMinMPerS', label: 'Slowest speed', quantity: 'speed', blank: 'no limit' },
      { key: 'speedMaxMPerS', label: 'Fastest speed', quantity: 'speed', blank: 'no limit' },
      {
        key: 'speedChangePercent',
        label: 'Greatest change of speed',
        quantity: 'percent',
        blank: 'not looked at',
      },
      { key: 'turnDegrees', label: 'Turning, in degrees', quantity: 'plain', blank: 'not looked at' },
      { key: 'turnWithinS', label: 'within', quantity: 'seconds' },
      {
        key: 'shiftLagS',
        label: 'Shift the flow back by',
        quantity: 'seconds',
        hint: 'Only if the file does not have the time from header to sensor taken out already.',
      },
      {
        key: 'shiftMoistureS',
        label: 'Shift the moisture back by',
        quantity: 'seconds',
        blank: 'as the flow',
      },
    ],
  },
  {
    heading: 'What the sensors said',
    fields: [
      { key: 'moistureMinPercent', label: 'Least moisture', quantity: 'percent', blank: 'the crop’s own' },
      { key: 'moistureMaxPercent', label: 'Most moisture', quantity: 'percent', blank: 'the crop’s own' },
      { key: 'yieldMinKgPerHa', label: 'Least yield', quantity: 'yield', blank: 'no limit' },
      {
        key: 'yieldMaxTimesMedian',
        label: 'Most yield, times the field’s median',
        quantity: 'plain',
        blank: 'no limit',
      },
      {
        key: 'outlierRobustSd',
        label: 'Odd among neighbours, robust SD',
        quantity: 'plain',
        blank: 'not looked at',
        hint: 'Held against neighbours of the same strip only.',
      },
    ],
  },
];

/** Screens without a limit of their own: on or off. */
const SWITCHES = [
  {
    key: 'positionScreen',
    label: 'Set aside positions that contradict the way driven',
  },
  {
    key: 'cutBeforeScreen',
    label: 'Set aside points whose header went over ground that was cut before',
  },
  {
    key: 'acrossScreen',
    label: 'Where a strip has several passes, set aside yields that are odd beside the neighbouring ones',
  },
] as const;

export function cleaningSection(current: TrialDocument): TemplateResult {
  return html`
    <section aria-labelledby="cleaning-heading">
      <h2 id="cleaning-heading">How points are screened</h2>
      <details>
        <summary>Margins, limits and screens</summary>
        <p class="hint">
          Starting values are common practice. They were noted when the harvest first opened; a change made after that is
          allowed and is said in the report.
        </p>
        ${GROUPS.map(
          ({ heading, fields }) => html`
            <fieldset>
              <legend>${heading}</legend>
              <div class="field-grid">${fields.map((field) => settingField(field, current))}</div>
            </fieldset>
          `,
        )}
        <fieldset class="pairs">
          <legend>Ground, position and neighbours</legend>
          ${SWITCHES.map(({ key, label }) => switchField(key, label, current))}
        </fieldset>
      </details>
    </section>
  `;
}

function switchField(
  key: (typeof SWITCHES)[number]['key'],
  label: string,
  current: TrialDocument,
): TemplateResult {
  const isOn = current.harvest[key] !== false;
  const change = () => dispatch({ name: 'changeHarvestSettings', changes: { [key]: !isOn } });
  return html`<label><input type="checkbox" .checked=${isOn} @change=${change} /> ${label}</label>`;
}

function settingField(
  { key, label, quantity, blank, hint }: SettingField,
  current: TrialDocument,
): TemplateResult {
  const take = (value: number | null) =>
    dispatch({ name: 'changeHarvestSettings', changes: { [key]: value } });
  return html`
    <sv-number class="field" .label=${label} .quantity=${quantity} .blank=${blank ?? null} .hint=${hint ?? ''}
      .value=${current.harvest[key] ?? null} .take=${take}></sv-number>
  `;
}
