import { html, nothing, type TemplateResult } from 'lit';
import { type CleanedComparison, cleaningPicture } from '../../figures/cleaning-picture.ts';
import type { CleaningGrid, CleaningResult } from '../../pipeline/cleaning-grid.ts';
import { lengthUnit } from '../../trial/display-units.ts';
import { cleaningChanges } from '../../words/cleaning-sentences.ts';
import { decimalsFor, signed } from '../../words/number-formats.ts';
import { MONEY_NOT_KNOWN, NUMBERS_ONLY } from '../../words/verdict-glossary.ts';
import { unitOf } from '../edge-units.ts';
import { askedJobPanel } from '../parts/asked-job-panel.ts';
import '../parts/figure-frame.ts';
import { cleanings } from '../state/cleanings.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { head, numbers, opening, table } from './figure-tables.ts';

const MOST_PX = 900;
/** More comparisons than these make a picture nobody reads. */
const MOST_DRAWN = 15;

const WORDS = {
  ask: 'Try all cleanings',
  askAgain: null,
  running: (stage: string | null) =>
    stage === 'analysing' ? 'Judging the trial under each' : 'Placing points',
  failed: 'They could not be tried, through a fault of the program.',
};

/** Does the cleaning decide? The trial under every reasonable cleaning, in one picture. */
export class CleaningsSection extends SignalElement {
  protected override render(): TemplateResult {
    return html`
      <section aria-labelledby="cleanings-heading">
        <h2 id="cleanings-heading">Does the cleaning decide?</h2>
        <p>
          There is no one right way to screen points. The trial is judged again under more than a hundred reasonable
          ones: lag as set and 2 s to either side, end margin as set, half and one and a half times, side margin as set,
          none and twice (at most half of what a strip is wider than the header), and the screens of positions, turning,
          speed, width, ground cut before, moisture limits, yield limits and odd points (along a pass, and beside
          neighbouring passes) each on and off. Each is changed alone; then they are mixed so that any two settings meet
          in every way equally often, and any three screens in every way.
        </p>
        ${askedJobPanel(cleanings, WORDS, foundOrNothing)}
      </section>
    `;
  }
}

/** For the Answer page: said once it is known that a verdict hangs on the cleaning. */
export function cleaningDecides(): string | null {
  const state = cleanings.state.value;
  if (state.stage !== 'done' || state.found === null || state.found.flipped === 0) return null;
  return decidesSentence(state.found);
}

function decidesSentence({ judged, flipped }: CleaningGrid): string {
  if (flipped === 0)
    return `The cleaning does not decide: under all ${judged} cleanings every verdict reads the same.`;
  return `The cleaning has a say: under ${flipped} of ${judged} cleanings at least one verdict reads otherwise.`;
}

function foundOrNothing(grid: CleaningGrid | null): TemplateResult {
  return grid === null
    ? html`<p>
        There is no verdict that cleanings could be held against: none yet, or one on another scale, which this comparison
        does not carry.
      </p>`
    : found(grid);
}

function found(grid: CleaningGrid): TemplateResult {
  const current = trial.value;
  const unit = current === null ? null : unitOf('yield', current).label;
  const drawn = grid.comparisons.slice(0, MOST_DRAWN).map((_, index) => cleaned(grid, index));
  const draw = (widthPx: number) => cleaningPicture(drawn, unit, { widthPx: Math.min(widthPx, MOST_PX) });
  return html`
    <p class="plan-answer">${decidesSentence(grid)}</p>
    <sv-figure file="cleanings.svg" .draw=${draw}></sv-figure>
    ${opening('How far each difference moves', movesTable(grid))}
    ${opening('One setting changed alone', aloneTable(grid))}
  `;
}

function cleaned({ results, comparisons }: CleaningGrid, index: number): CleanedComparison {
  const { a, b, own } = comparisons[index]!;
  return {
    label: `${a} against ${b}`,
    verdicts: `${own.difference ?? NUMBERS_ONLY}. ${own.money ?? MONEY_NOT_KNOWN}`,
    own: own.estimate,
    under: results.flatMap(({ verdicts }) => {
      const one = verdicts?.find((verdict) => verdict.a === a && verdict.b === b);
      if (one === undefined) return [];
      const differenceHolds = one.difference === own.difference;
      return [{ estimate: one.estimate, differenceHolds, moneyHolds: one.money === own.money }];
    }),
  };
}

function movesTable({ comparisons, judged }: CleaningGrid): TemplateResult {
  const decimals = decimalsOf(comparisons.map(({ own }) => own.estimate));
  return table(
    'How far each difference moves',
    html`
      ${head(['Comparison', { number: 'Own cleaning' }, { number: 'Least' }, { number: 'Most' }, { wrapped: `Difference reads otherwise, of ${judged}` }, { wrapped: `Money reads otherwise, of ${judged}` }])}
      <tbody>
        ${comparisons.map(
          ({ a, b, own, least, most, differenceFlips, moneyFlips }) => html`
            <tr>
              <th scope="row">${a} against ${b}</th>
              ${numbers([signed(own.estimate, decimals), signed(least, decimals), signed(most, decimals), differenceFlips, moneyFlips])}
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}

/** What each setting does by itself: the cleanings that differ from the trial's own in one thing. */
function aloneTable(grid: CleaningGrid): TemplateResult {
  const own = grid.results.find(({ cleaning }) => cleaning.isOwn);
  const length = lengthUnit(trial.value?.unitSystem ?? 'metric');
  if (own === undefined) return html``;
  const decimals = decimalsOf(grid.comparisons.map((one) => one.own.estimate));
  const alone = grid.results.flatMap((result) => {
    const changed = cleaningChanges(result.cleaning, own.cleaning, length);
    return changed.length === 1 ? [{ result, says: changed[0] ?? '' }] : [];
  });
  return table(
    'One setting changed alone',
    html`
      ${head(['Changed', ...grid.comparisons.map(({ a, b }) => ({ wrapped: `${a} against ${b}` }))])}
      <tbody>
        ${[{ result: own, says: 'own cleaning' }, ...alone].map(
          ({ result, says }) => html`
            <tr>
              <th scope="row">${says}</th>
              ${grid.comparisons.map((one) => html`<td class="number">${cellOf(result, one, decimals)}</td>`)}
            </tr>
          `,
        )}
      </tbody>
    `,
  );
}

function cellOf(
  { verdicts }: CleaningResult,
  { a, b, own }: CleaningGrid['comparisons'][number],
  decimals: number,
): TemplateResult {
  const one = verdicts?.find((verdict) => verdict.a === a && verdict.b === b);
  if (one === undefined) return html`not judged`;
  const flips = [
    ...(one.difference === own.difference ? [] : [one.difference ?? NUMBERS_ONLY]),
    ...(one.money === own.money ? [] : [one.money ?? MONEY_NOT_KNOWN]),
  ];
  return html`${signed(one.estimate, decimals)}${flips.length === 0 ? nothing : html`<br /><strong>${flips.join(', ')}</strong>`}`;
}

/** Three figures of the largest difference. */
function decimalsOf(estimates: readonly number[]): number {
  return decimalsFor(null, 10 * Math.max(...estimates.map(Math.abs), 1e-9));
}

customElements.define('sv-cleanings', CleaningsSection);
