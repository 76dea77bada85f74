import { html, nothing, type PropertyDeclarations, type TemplateResult } from 'lit';
import { type LocalPosition, localProjection } from '../../geometry/local-projection.ts';
import type { PassesOnField } from '../../pipeline/passes-of-trial.ts';
import { lengthUnit } from '../../trial/display-units.ts';
import {
  cutPlaces,
  numberedPieces,
  numbersAfter,
  type PassCut,
  type PlacedCut,
  placedCuts,
  SHORTEST_PIECE_M,
} from '../../trial/pass-cuts.ts';
import type { PassNumbering, TrialDocument } from '../../trial/trial-document.ts';
import { fixed } from '../../words/number-formats.ts';
import { choiceField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { announcement, dispatch, trial } from '../state/session.ts';
import { SignalElement } from '../state/signal-element.ts';

const EVERY = 'every';

/** A place on the map of passes that was pointed at. */
export interface PickedPlace {
  readonly at: LocalPosition;
  /** The pass under the pointer; null: none. */
  readonly pass: number | null;
}

/** The numbering that the passes have under the cuts of the document, also before they are worked out anew. */
export function numberingUnderCuts(
  { passCuts = [] }: Pick<TrialDocument, 'passCuts'>,
  passes: PassesOnField,
): PassNumbering {
  const pieces = numberedPieces(passes.whole, cutPlaces(passes.whole, placedOn(passes, passCuts)));
  return { ...passes.numbering, count: pieces.length };
}

function placedOn({ frame, along }: PassesOnField, cuts: readonly PassCut[]): readonly PlacedCut[] {
  return placedCuts(cuts, localProjection(frame), along);
}

/** Passes that run through more than one strip: where they are cut, by pointing at the map or in figures. */
export class CutPasses extends SignalElement {
  static override readonly properties: PropertyDeclarations = {
    passes: { attribute: false },
    picked: { attribute: false },
    which: { state: true },
    metres: { state: true },
    fault: { state: true },
    isOpen: { state: true },
  };

  declare passes: PassesOnField | null;
  declare picked: PickedPlace | null;
  /** EVERY, or the number of one pass. */
  declare which: string;
  declare metres: number | null;
  declare fault: string;
  declare isOpen: boolean;

  constructor() {
    super();
    this.passes = null;
    this.picked = null;
    this.which = EVERY;
    this.metres = null;
    this.fault = '';
    this.isOpen = false;
  }

  protected override willUpdate(changed: Map<string, unknown>): void {
    const { picked, passes } = this;
    if (!changed.has('picked') || picked === null || passes === null) return;
    const current = trial.peek();
    if (current === null) return;
    if (this.which !== EVERY && picked.pass !== null) this.which = String(picked.pass);
    const alongM = picked.at[0] * passes.along[0] + picked.at[1] * passes.along[1];
    this.metres = Math.round(alongM - this.#endM(passes, current));
    this.isOpen = true;
    this.fault = '';
  }

  protected override render(): TemplateResult | typeof nothing {
    const current = trial.value;
    const { passes } = this;
    if (current === null || passes === null) return nothing;
    const cuts = current.passCuts ?? [];
    const { count, from } = numberingUnderCuts(current, passes);
    const end = from === 'west' ? 'southern' : 'eastern';
    const ofOne = Array.from({ length: count }, (_, k) => String(k + 1));
    return html`
      <details ?open=${this.isOpen || cuts.length > 0} @toggle=${this.#toggled}>
        <summary>Passes that run through more than one strip</summary>
        <p class="hint">
          Cut them where one strip ends and the next begins: point at the place on the map above, or give the metres. Each
          piece is then a pass with a number and ends of its own; strips keep the ground that they had.
        </p>
        ${cuts.length === 0 ? nothing : this.#cutList(cuts, passes, current)}
        <div class="field-grid">
          ${choiceField({
            id: 'cut-which',
            label: 'Cut',
            value: this.which,
            choices: [
              { value: EVERY, label: 'every pass' },
              ...ofOne.map((number) => ({ value: number, label: `pass ${number} alone` })),
            ],
            take: (which) => {
              this.which = which;
            },
          })}
          <sv-number class="field" label="So far along" quantity="length" blank=""
            hint=${`From the ${end} end of the ${this.which === EVERY ? 'passes' : 'pass'}.`} .value=${this.metres}
            .take=${(metres: number | null) => {
              this.metres = metres;
              return true;
            }}></sv-number>
        </div>
        <p class="actions"><button type="button" @click=${() => this.#cut(passes, current)}>Cut here</button></p>
        <p class="fault" role="status">${this.fault}</p>
      </details>
    `;
  }

  #cutList(cuts: readonly PassCut[], passes: PassesOnField, current: TrialDocument): TemplateResult {
    const { label, perSi } = lengthUnit(current.unitSystem);
    const placed = placedOn(passes, cuts);
    const lowestM = Math.min(...passes.whole.map(({ fromM }) => fromM));
    const words = ({ alongM, every }: PlacedCut) =>
      `${every ? 'Every pass' : 'One pass'} cut ${fixed((alongM - lowestM) * perSi, 0)} ${label} along`;
    return html`
      <ul class="areas">
        ${placed.map(
          (cut, k) => html`
            <li>
              <span>${words(cut)}</span>
              <button type="button" class="plain" aria-label="Take back: ${words(cut)}"
                @click=${() => take(passes, current, cuts.toSpliced(k, 1))}>Take back</button>
            </li>
          `,
        )}
      </ul>
    `;
  }

  /** Where metres are counted from, along. */
  #endM(passes: PassesOnField, current: TrialDocument): number {
    if (this.which === EVERY) return Math.min(...passes.whole.map(({ fromM }) => fromM));
    return this.#pieceChosen(passes, current)?.fromM ?? 0;
  }

  #pieceChosen(passes: PassesOnField, current: TrialDocument) {
    const places = cutPlaces(passes.whole, placedOn(passes, current.passCuts ?? []));
    return numberedPieces(passes.whole, places)[Number(this.which) - 1];
  }

  #cut(passes: PassesOnField, current: TrialDocument): void {
    const { metres } = this;
    if (metres === null) {
      this.fault = 'Point at a place on the map, or say how far along.';
      return;
    }
    const every = this.which === EVERY;
    const acrossM = every ? middleAcross(passes) : (this.#pieceChosen(passes, current)?.acrossM ?? 0);
    const alongM = this.#endM(passes, current) + metres;
    const [alongEast, alongNorth] = passes.along;
    const [longitude, latitude] = localProjection(passes.frame).toGeographic(
      alongM * alongEast + acrossM * alongNorth,
      alongM * alongNorth - acrossM * alongEast,
    );
    const before = numberingUnderCuts(current, passes).count;
    const cuts = [...(current.passCuts ?? []), { longitude, latitude, every }];
    const after = numberingUnderCuts({ passCuts: cuts }, passes).count;
    if (after <= before) {
      const { label, perSi } = lengthUnit(current.unitSystem);
      this.fault = `Nothing is cut there: a piece must be at least ${fixed(SHORTEST_PIECE_M * perSi, 0)} ${label} long.`;
      return;
    }
    if (!take(passes, current, cuts)) return;
    this.metres = null;
    this.fault = '';
    announcement.value = `Cut: there are ${after} passes now.`;
  }

  readonly #toggled = (event: Event): void => {
    if (event.target instanceof HTMLDetailsElement) this.isOpen = event.target.open;
  };
}

function middleAcross({ whole }: PassesOnField): number {
  return ((whole[0]?.acrossM ?? 0) + (whole.at(-1)?.acrossM ?? 0)) / 2;
}

function take(passes: PassesOnField, current: TrialDocument, cuts: readonly PassCut[]): boolean {
  const { whole } = passes;
  const [before, now] = [current.passCuts ?? [], cuts].map((own) => cutPlaces(whole, placedOn(passes, own)));
  return dispatch({
    name: 'cutPasses',
    cuts,
    becomes: numbersAfter(whole, before!, now!),
    numbering: numberingUnderCuts({ passCuts: [...cuts] }, passes),
  });
}

customElements.define('sv-cut-passes', CutPasses);
