import { html, nothing, type TemplateResult } from 'lit';
import { changedAfterSeeing } from '../../trial/changed-after-seeing.ts';
import type { DecidingProcedure, Inference, TrialDocument } from '../../trial/trial-document.ts';
import { type Choice, choiceField } from '../parts/fields.ts';
import { designDetails } from './design-details.ts';
import '../parts/number-field.ts';
import { part } from '../parts/page-part.ts';
import { dispatch } from '../state/session.ts';

type Comparisons = Inference['comparisons'];

const PROCEDURES: readonly Choice<DecidingProcedure>[] = [
  { value: 'auto', label: 'By the number of treatments (recommended)' },
  { value: 't', label: 't test (two treatments)' },
  { value: 'dunnett', label: 'Dunnett, each against the check' },
  { value: 'tukey', label: 'Tukey, all pairs' },
  { value: 'bonferroni', label: 'Bonferroni' },
  { value: 'holm', label: 'Holm' },
  { value: 'protectedLsd', label: 'LSD after a significant F' },
  { value: 'lsd', label: 'LSD, unprotected' },
];

const COMPARISONS: readonly Choice<Comparisons>[] = [
  { value: 'auto', label: 'Against the check where there is one, else all pairs' },
  { value: 'againstCheck', label: 'Each treatment against the check' },
  { value: 'allPairs', label: 'All pairs' },
  { value: 'named', label: 'The pairs named below' },
];

type Scale = NonNullable<Inference['scale']>;
type Trend = NonNullable<Inference['trend']>;

const SCALES: readonly Choice<Scale | 'measured'>[] = [
  { value: 'measured', label: 'As measured' },
  { value: 'log', label: 'Logarithms: differences are ratios' },
  { value: 'squareRoot', label: 'Square roots' },
];

const TRENDS: readonly Choice<Trend | 'none'>[] = [
  { value: 'none', label: 'None beside the blocks' },
  { value: 'linear', label: 'A straight trend' },
  { value: 'quadratic', label: 'A bent trend' },
];

const RATES: readonly Choice<'no' | 'yes'>[] = [
  { value: 'no', label: 'No' },
  { value: 'yes', label: 'Yes, each named by its number' },
];

const MACHINES: readonly Choice<'no' | 'yes'>[] = [
  { value: 'no', label: 'No' },
  { value: 'yes', label: 'Yes, the machine is part of the model' },
];

/** Level, procedure, comparisons and margin: fixed before the harvest is seen, and watched after that. */
export function decidingSection(current: TrialDocument): TemplateResult {
  const { inference } = current;
  return html`
    <section aria-labelledby="deciding-heading">
      <h2 id="deciding-heading">How the answer is decided</h2>
      <p class="hint">${stampSays(current)}</p>
      <div class="field-grid">
        <sv-number class="field" label="Significance level" quantity="plain"
          hint="0.05 is usual in research, 0.10 common on farms. A smaller level asks for more proof."
          .value=${inference.alpha} .take=${takeAlpha}></sv-number>
        <sv-number class="field" label="Margin for “the same in practice”" quantity="yield" blank="none set"
          hint="A difference too small to matter to you. Without one, nothing is called the same."
          .value=${inference.marginKgPerHa}
          .take=${(marginKgPerHa: number | null) => decide({ marginKgPerHa })}></sv-number>
        ${choiceField({ id: 'comparisons', isWide: true, label: 'Which comparisons matter', value: inference.comparisons, choices: COMPARISONS, take: (comparisons) => decide({ comparisons }) })}
        ${choiceField({
          id: 'decided-by',
          isWide: true,
          label: 'Deciding procedure',
          value: inference.decidedBy,
          choices: PROCEDURES,
          hint: 'Guards against calling equal products different when there are many comparisons.',
          take: (decidedBy) => decide({ decidedBy }),
        })}
      </div>
      ${inference.comparisons === 'named' ? namedPairs(current) : nothing} ${part(() => modelDetails(current))}
      ${part(() => designDetails(current))}
    </section>
  `;
}

/** What few trials need: opens on demand, and by itself where something was chosen. */
function modelDetails({ inference, harvestFiles }: TrialDocument): TemplateResult {
  const { scale, trend, followsRate, machineTerm } = inference;
  const isChosen = Boolean(scale) || Boolean(trend) || followsRate === true || machineTerm === true;
  const hasPoints = harvestFiles.some(({ kind }) => kind === 'points');
  return html`
    <details ?open=${isChosen}>
      <summary>More about the analysis</summary>
      <div class="field-grid">
        ${choiceField({
          id: 'scale',
          label: 'Scale of the yields',
          value: scale ?? 'measured',
          choices: SCALES,
          hint: 'Another scale serves where spread grows with yield. Means are brought back; on square roots money is not reckoned.',
          take: (chosen) => decide({ scale: chosen === 'measured' ? null : chosen }),
        })}
        ${choiceField({
          id: 'trend',
          label: 'Trend across the field',
          value: trend ?? 'none',
          choices: TRENDS,
          hint: 'Taken out by the places of the strips. It needs the place of every strip.',
          take: (chosen) => decide({ trend: chosen === 'none' ? null : chosen }),
        })}
        ${choiceField({
          id: 'follows-rate',
          label: 'Are the treatments rates of one product?',
          value: followsRate === true ? 'yes' : 'no',
          choices: RATES,
          hint: 'Adds the line, the bend and the rate of the highest yield.',
          take: (chosen) => decide({ followsRate: chosen === 'yes' ? true : null }),
        })}
        ${
          hasPoints || machineTerm === true
            ? choiceField({
                id: 'machine-term',
                label: 'Take out a difference between machines?',
                value: machineTerm === true ? 'yes' : 'no',
                choices: MACHINES,
                hint: 'Where each strip was cut by one machine alone, and each machine cut several treatments. Machines are named on the Harvest page.',
                take: (chosen) => decide({ machineTerm: chosen === 'yes' ? true : null }),
              })
            : nothing
        }
      </div>
    </details>
  `;
}

function stampSays(current: TrialDocument): string {
  if (current.stamp === null) {
    return 'Settle these before you open the harvest. They are noted then, and what changes later is said in the report.';
  }
  const noted = `Noted on ${current.stamp.at.slice(0, 10)}, when the harvest was first opened.`;
  const late = changedAfterSeeing(current).length;
  return late === 0
    ? `${noted} Nothing has changed since. A later change is allowed and is said in the report.`
    : `${noted} Changed since: ${late}. The answer and the handout say so.`;
}

function namedPairs(current: TrialDocument): TemplateResult {
  const { treatments, inference } = current;
  const isNamed = (a: string, b: string) => inference.namedPairs.some(([x, y]) => x === a && y === b);
  const toggle = (a: string, b: string) =>
    decide({
      namedPairs: isNamed(a, b)
        ? inference.namedPairs.filter(([x, y]) => x !== a || y !== b)
        : [...inference.namedPairs, [a, b]],
    });
  const pairs = treatments.flatMap((b, index) => treatments.slice(index + 1).map((a) => ({ a, b })));
  return html`
    <fieldset class="pairs">
      <legend>Pairs to compare</legend>
      ${pairs.map(({ a, b }) => {
        const [first, second] = isNamed(b.id, a.id) ? [b, a] : [a, b];
        return html`
          <label>
            <input type="checkbox" .checked=${isNamed(first.id, second.id)} @change=${() => toggle(first.id, second.id)} />
            ${first.name} against ${second.name}
          </label>
        `;
      })}
    </fieldset>
  `;
}

function takeAlpha(alpha: number | null): boolean {
  return alpha !== null && decide({ alpha });
}

function decide(changes: Partial<Inference>): boolean {
  return dispatch({ name: 'changeInference', changes });
}
