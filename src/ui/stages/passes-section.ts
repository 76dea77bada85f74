import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { groundOnPassMap, type PassMapInput, passMap } from '../../figures/pass-map.ts';
import type { PassesOnField } from '../../pipeline/passes-of-trial.ts';
import { passListText } from '../../trial/pass-list.ts';
import { isSameNumbering } from '../../trial/pass-numbering.ts';
import { proposePasses, stripsInOrder } from '../../trial/pass-proposal.ts';
import type { Strip, TrialDocument } from '../../trial/trial-document.ts';
import '../parts/figure-frame.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/pass-list-field.ts';
import './add-strip.ts';
import { counted } from '../state/readiness.ts';
import { dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';
import { numberingUnderCuts, type PickedPlace } from './cut-passes.ts';

type Edge = 'first' | 'last';
const MOST_PX = 900;
const OTHER_EDGE = { west: 'eastern', south: 'northern' } as const;

/** Strips without outlines: the numbered harvest passes, and which of them belong to which strip. */
export class PassesSection extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    passes: { attribute: false },
    shared: { state: true },
    edge: { state: true },
    refusal: { state: true },
    picked: { state: true },
  };

  declare passes: PassesOnField | null;
  /** Passes to share out among the strips; null: all. */
  declare shared: readonly number[] | null;
  /** The edge that the first strip lies at: that of pass 1, or the other. */
  declare edge: Edge;
  declare refusal: string | null;
  /** Pointed at on the map, to cut passes there. */
  declare picked: PickedPlace | null;

  constructor() {
    super();
    this.passes = null;
    this.shared = null;
    this.edge = 'first';
    this.refusal = null;
    this.picked = null;
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    if (current === null || this.passes === null) return nothing;
    // A cut counts at once; where its pieces lie is worked out a moment later.
    const passes = { ...this.passes, numbering: numberingUnderCuts(current, this.passes) };
    const isNamed = current.strips.some((strip) => passesOf(strip).length > 0);
    return html`
      <section aria-labelledby="passes-heading" class=${isNamed ? '' : 'asked'}>
        <h2 id="passes-heading">Which passes belong to which strip</h2>
        <p>
          The strips have no outlines, so each is the ground that its own harvest passes cut.
          ${foundSays(passes)}
        </p>
        ${trackNotice(current, passes, isNamed)}
        <sv-figure class="pass-map" file="harvest-passes.svg" .draw=${(widthPx: number) => mapOf(current, passes, widthPx)}
          @click=${(event: MouseEvent) => this.#pick(event, current, passes)}></sv-figure>
        ${isOtherTrack(current, passes) ? nothing : html`<sv-cut-passes .passes=${passes} .picked=${this.picked}></sv-cut-passes>`}
        ${this.#proposal(current, passes)} ${stripTable(current, passes)} <sv-add-strip></sv-add-strip>
      </section>
    `;
  }

  #proposal(current: TrialDocument, passes: PassesOnField): TemplateResult {
    const { from, count } = passes.numbering;
    const all = Array.from({ length: count }, (_, k) => k + 1);
    return html`
      <fieldset>
        <legend>Share them out</legend>
        <div class="field-grid">
          <sv-pass-list class="field" label="Passes of the trial" .last=${count} .value=${this.shared ?? all}
            hint="Without those along the border, as in 2-${Math.max(3, count - 1)}."
            .take=${(numbers: readonly number[]) => {
              this.shared = numbers;
              this.refusal = null;
              return null;
            }}></sv-pass-list>
          ${choiceField({
            id: 'first-strip-edge',
            label: `Strip ${stripsInOrder(current.strips)[0]?.id ?? ''} lies nearest`,
            value: this.edge,
            choices: [
              { value: 'first', label: `the ${from}ern edge` },
              { value: 'last', label: `the ${OTHER_EDGE[from]} edge` },
            ],
            take: (edge: Edge) => {
              this.edge = edge;
            },
          })}
        </div>
        <p class="actions">
          <button type="button" @click=${() => this.#propose(current, passes)}>Give each strip as many, in this order</button>
        </p>
        ${this.refusal === null ? nothing : html`<p class="fault" role="status">${this.refusal}</p>`}
      </fieldset>
    `;
  }

  #pick(event: MouseEvent, current: TrialDocument, passes: PassesOnField): void {
    const svg = event.target instanceof Element ? event.target.closest('svg') : null;
    const widthPx = svg?.viewBox.baseVal.width ?? 0;
    if (svg === null || widthPx === 0) return;
    const box = svg.getBoundingClientRect();
    const times = widthPx / box.width;
    const [x, y] = [(event.clientX - box.left) * times, (event.clientY - box.top) * times];
    const at = groundOnPassMap(mapInput(current, passes), { widthPx }, x, y);
    const pass = event.target instanceof Element ? event.target.closest('[data-pass]') : null;
    if (at !== null && pass !== null) this.picked = { at, pass: Number(pass.getAttribute('data-pass')) };
  }

  #propose(current: TrialDocument, passes: PassesOnField): void {
    const all = Array.from({ length: passes.numbering.count }, (_, k) => k + 1);
    const shared = this.shared ?? all;
    const proposal = proposePasses(current.strips, shared, this.edge === 'last');
    if (proposal.ok) {
      this.refusal = null;
      assign(proposal.passesOfStrips, passes);
      return;
    }
    this.refusal = `${proposal.passes} ${proposal.passes === 1 ? 'pass' : 'passes'} cannot be shared out evenly among ${counted(proposal.strips, 'strip')}. Name above the passes that the strips were cut in, without those of the border, or fill in the table.`;
  }
}

function passesOf({ passes }: Strip): readonly number[] {
  return passes ?? [];
}

function assign(
  passesOfStrips: Readonly<Record<string, readonly number[]>>,
  { numbering }: PassesOnField,
): boolean {
  return dispatch({ name: 'assignPasses', passesOfStrips, numbering });
}

function foundSays({ numbering, leftOut }: PassesOnField): string {
  const { count, from } = numbering;
  const found =
    count === 1 ? 'One pass was found.' : `${count} passes were found, numbered from the ${from}ern edge on.`;
  const across = leftOut.across === 0 ? [] : [`${leftOut.across} across the others`];
  const short = leftOut.short === 0 ? [] : [`${leftOut.short} much shorter`];
  const others = [...across, ...short];
  return others.length === 0 ? found : `${found} Not numbered: ${others.join(', ')}.`;
}

/** Numbers of another track are settled first. */
function isOtherTrack({ passNumbering }: TrialDocument, { numbering }: PassesOnField): boolean {
  return passNumbering != null && !isSameNumbering(passNumbering, numbering);
}

/** Numbers that came without a track, or speak of another one, are for the user to look at again. */
function trackNotice(
  current: TrialDocument,
  passes: PassesOnField,
  isNamed: boolean,
): TemplateResult | typeof nothing {
  const kept = current.passNumbering ?? null;
  if (!isNamed || isSameNumbering(kept, passes.numbering)) return nothing;
  const own = Object.fromEntries(current.strips.map((strip) => [strip.id, passesOf(strip)]));
  const says =
    kept === null
      ? 'The numbers in the table came with the list of strips. Do they fit these passes?'
      : `The track has changed since the passes were given: then there were ${kept.count}, numbered from the ${kept.from}ern edge. Do the numbers in the table still fit?`;
  return html`
    <div class="notice">
      <p>${says}</p>
      <p class="actions"><button type="button" class="main" @click=${() => assign(own, passes)}>They fit: take them for this track</button></p>
    </div>
  `;
}

function mapOf(current: TrialDocument, passes: PassesOnField, widthPx: number): string {
  return passMap(mapInput(current, passes), { widthPx: Math.min(widthPx, MOST_PX) });
}

function mapInput(current: TrialDocument, { passes, numbering }: PassesOnField): PassMapInput {
  const names = new Map(current.treatments.map(({ id, name }) => [id, name]));
  const owner = new Map(
    current.strips.flatMap((strip) => passesOf(strip).map((pass) => [pass, strip] as const)),
  );
  const isWorkedOut = passes.length === numbering.count;
  return {
    passes: passes.map(({ number, ring }) => {
      const strip = isWorkedOut ? owner.get(number) : undefined;
      const treatment = strip === undefined ? null : (names.get(strip.treatment) ?? strip.treatment);
      return { number, ring, strip: strip?.id ?? null, treatment };
    }),
    treatments: current.treatments.map(({ name }) => name),
    from: numbering.from,
  };
}

function stripTable(current: TrialDocument, passes: PassesOnField): TemplateResult {
  const names = new Map(current.treatments.map(({ id, name }) => [id, name]));
  const blocks = new Map(current.blocks.map(({ id, name }) => [id, name]));
  const taken = new Set(current.strips.flatMap((strip) => passesOf(strip)));
  const all = Array.from({ length: passes.numbering.count }, (_, k) => k + 1);
  const free = all.filter((number) => !taken.has(number));
  return html`
    <div class="table-frame" tabindex="0" role="region" aria-labelledby="passes-heading">
      <table class="entry-table">
        <thead>
          <tr>
            <th scope="col">Strip</th>
            <th scope="col">Treatment</th>
            <th scope="col">Block</th>
            <th scope="col">Passes</th>
          </tr>
        </thead>
        <tbody>
          ${stripsInOrder(current.strips).map(
            (strip) => html`
              <tr>
                <th scope="row">${strip.id}</th>
                <td data-label="Treatment">${names.get(strip.treatment) ?? strip.treatment}</td>
                <td data-label="Block">${strip.block === null ? 'none' : (blocks.get(strip.block) ?? strip.block)}</td>
                <td data-label="Passes">
                  <sv-pass-list label="Passes of strip ${strip.id}" hiddenLabel .last=${passes.numbering.count}
                    .value=${passesOf(strip)} .take=${(numbers: readonly number[]) => takePasses(strip, numbers, current, passes)}></sv-pass-list>
                </td>
              </tr>
            `,
          )}
        </tbody>
      </table>
    </div>
    <p class="hint">
      Several passes a strip: 3-4, 7. ${free.length === 0 ? 'Every pass belongs to a strip.' : `Of no strip, and left out: ${passListText(free)}.`}
    </p>
  `;
}

/** What is wrong with the passes, or null when they were taken. */
function takePasses(
  strip: Strip,
  numbers: readonly number[],
  current: TrialDocument,
  passes: PassesOnField,
): string | null {
  for (const other of current.strips) {
    const both = other.id === strip.id ? undefined : passesOf(other).find((pass) => numbers.includes(pass));
    if (both !== undefined) return `Pass ${both} belongs to strip ${other.id}; take it from there first.`;
  }
  return assign({ [strip.id]: numbers }, passes)
    ? null
    : 'The trial cannot take this; the passes before it stand.';
}

customElements.define('sv-passes', PassesSection);
