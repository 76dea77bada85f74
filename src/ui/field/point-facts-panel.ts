import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import type { PointFacts } from '../../harvest/point-facts.ts';
import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { compassWords } from '../../words/compass-words.ts';
import { fixed, NO_NUMBER, percentOf } from '../../words/number-formats.ts';
import { type Quantity, unitOf } from '../edge-units.ts';
import { analysisBench } from '../state/analysis.ts';
import { trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

/** Asked of the worker once the pointer rests, since a million points pass under it on its way. */
const REST_MS = 90;

/** All that is known of the chosen point beside its place and its yield; the place stays when another is chosen. */
export class PointFactsPanel extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    points: { attribute: false },
    index: { attribute: false },
    areJudged: { attribute: false },
    facts: { state: true },
  };

  declare points: PlacedPoints | null;
  /** -1: none is chosen. */
  declare index: number;
  /** false: of the points is known only what the files say. */
  declare areJudged: boolean;
  declare facts: PointFacts | null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wasShown = false;

  constructor() {
    super();
    this.points = null;
    this.index = -1;
    this.areJudged = true;
    this.facts = null;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  protected override willUpdate(changed: Map<string, unknown>): void {
    if (!changed.has('points') && !changed.has('index')) return;
    clearTimeout(this.#timer);
    this.facts = null;
    const { points, index } = this;
    if (points === null || index < 0) return;
    this.#wasShown = true;
    this.#timer = setTimeout(() => void this.#ask(points, index), REST_MS);
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    // Once shown it keeps its place, so that nothing below jumps as the pointer moves.
    if (current === null || !this.#wasShown) return nothing;
    const rows = factRows(this.facts, current, this.areJudged);
    return html`
      <dl class="point-facts" aria-label="The chosen point">
        ${rows.map(([what, value]) => html`<div><dt>${what}</dt><dd>${value}</dd></div>`)}
      </dl>
    `;
  }

  async #ask(points: PlacedPoints, index: number): Promise<void> {
    const facts = await analysisBench.pointFacts(points, index);
    if (points === this.points && index === this.index) this.facts = facts;
  }
}

function factRows(
  facts: PointFacts | null,
  current: TrialDocument,
  areJudged: boolean,
): readonly (readonly [string, string])[] {
  const measured = (si: number | null | undefined, quantity: Quantity, decimals: number) => {
    const { label, perSi } = unitOf(quantity, current);
    return si == null ? NO_NUMBER : `${fixed(si * perSi, decimals)} ${label}`;
  };
  const { harvestFiles } = current;
  const isOneOfSeveral = harvestFiles.filter(({ kind }) => kind === 'points').length > 1;
  const file = facts === null ? NO_NUMBER : `${facts.file}, point ${facts.pointOfFile}`;
  return [
    ['Speed', measured(facts?.speedMPerS, 'speed', 1)],
    ['Moisture', measured(facts?.moisturePercent, 'percent', 1)],
    ['Width cut', measured(facts?.widthM, 'length', 2)],
    ...(areJudged ? [passRow(facts)] : []),
    ['Heading', headingText(facts)],
    ...(areJudged ? [['Inside its strip', insideText(facts)] as const] : []),
    [facts?.clockS == null ? 'Time' : 'Time (file’s clock, or UTC)', timeText(facts)],
    ...(isOneOfSeveral ? [['File', file] as const] : []),
  ];
}

function passRow(facts: PointFacts | null): readonly [string, string] {
  const isAcross = facts?.pass?.counted === 'acrossField';
  return [isAcross ? 'Pass, across the field' : 'Pass, as driven', passText(facts)];
}

function passText(facts: PointFacts | null): string {
  if (facts === null) return NO_NUMBER;
  return facts.pass === null ? 'none, on a turn' : String(facts.pass.number);
}

function headingText(facts: PointFacts | null): string {
  const degrees = facts?.headingDegrees ?? null;
  if (degrees === null) return NO_NUMBER;
  const round = ((degrees % 360) + 360) % 360;
  return `${compassWords(round)}, ${fixed(round, 0)}°`;
}

function insideText(facts: PointFacts | null): string {
  const share = facts?.shareInside ?? null;
  if (share === null) return NO_NUMBER;
  const ofPass = facts?.passShareInside ?? null;
  return ofPass === null ? percentOf(share) : `${percentOf(share)}; its pass ${percentOf(ofPass)}`;
}

/** By the clock of the file; where that names a zone it was turned to UTC, as the label says. */
function timeText(facts: PointFacts | null): string {
  if (facts === null) return NO_NUMBER;
  if (facts.clockS !== null)
    return new Date(1000 * facts.clockS).toISOString().slice(0, 19).replace('T', ' ');
  return facts.timeS === null ? NO_NUMBER : `${sinceStart(facts.timeS)} from the start`;
}

/** "1:02:05". */
function sinceStart(seconds: number): string {
  const whole = Math.round(seconds);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
}

customElements.define('sv-point-facts', PointFactsPanel);
