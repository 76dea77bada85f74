import { html, nothing, type TemplateResult } from 'lit';
import type { HarvestFile, TrialDocument, YieldColumnAnswers } from '../../trial/trial-document.ts';
import { type Choice, choiceField } from '../parts/fields.ts';
import '../parts/number-field.ts';
import { dispatch } from '../state/session.ts';

type MoistureBasis = NonNullable<YieldColumnAnswers['moistureBasis']>;

const NOT_SAID = '';

const BASES: readonly Choice<MoistureBasis | ''>[] = [
  { value: NOT_SAID, label: 'Not said' },
  { value: 'wet', label: 'Wet, as it came off the field' },
  { value: 'standard', label: 'Already at the trial’s standard moisture' },
  { value: 'percent', label: 'At another moisture' },
];

const YES_NO: readonly Choice<'' | 'yes' | 'no'>[] = [
  { value: NOT_SAID, label: 'Not said' },
  { value: 'yes', label: 'Yes' },
  { value: 'no', label: 'No' },
];

const POSITIONS: readonly Choice<'' | 'antenna' | 'header'>[] = [
  { value: NOT_SAID, label: 'Not said' },
  { value: 'antenna', label: 'The antenna' },
  { value: 'header', label: 'The header' },
];

/** Asked of the column that the yield is taken from, since no file says it of itself. */
export function yieldQuestions(
  file: HarvestFile,
  yieldHeading: string | null,
  current: TrialDocument,
): TemplateResult | typeof nothing {
  const heading = yieldHeading ?? file.yieldColumns[0]?.heading;
  if (heading === undefined) return nothing;
  const answers = file.yieldColumns.find((column) => column.heading === heading) ?? unanswered(heading);
  const answer = (changes: Partial<YieldColumnAnswers>) => keepAnswer(file, { ...answers, ...changes });
  const id = (name: string) => `${name}-${current.harvestFiles.indexOf(file)}`;
  return html`
    <div class="asked" role="group" aria-label="About the yield in ${file.path}">
      <p>About the column <strong>${heading}</strong>, which no file says of itself:</p>
      <div class="field-grid">
        ${choiceField({
          id: id('basis'),
          label: 'At which moisture does it stand?',
          value: answers.moistureBasis ?? NOT_SAID,
          choices: BASES,
          take: (basis) => answer({ moistureBasis: basis === NOT_SAID ? null : basis }),
        })}
        ${
          answers.moistureBasis === 'percent'
            ? html`<sv-number class="field" label="At this moisture" quantity="percent" blank="not said"
                .value=${answers.atMoisturePercent}
                .take=${(atMoisturePercent: number | null) => answer({ atMoisturePercent })}></sv-number>`
            : nothing
        }
        ${file.kind === 'points' ? monitorQuestions(answers, answer, id) : nothing}
      </div>
    </div>
  `;
}

function monitorQuestions(
  answers: YieldColumnAnswers,
  answer: (changes: Partial<YieldColumnAnswers>) => boolean,
  id: (name: string) => string,
): TemplateResult {
  return html`
    <sv-number class="field" label="Lag already taken out" quantity="seconds" blank="not said"
      hint="Time from header to sensor. Most exports have it taken out; 0: not taken out."
      .value=${answers.lagAppliedS} .take=${(lagAppliedS: number | null) => answer({ lagAppliedS })}></sv-number>
    ${choiceField({
      id: id('filtered'),
      label: 'Were points filtered before?',
      value: answers.alreadyFiltered === null ? NOT_SAID : answers.alreadyFiltered ? 'yes' : 'no',
      choices: YES_NO,
      take: (said) => answer({ alreadyFiltered: said === NOT_SAID ? null : said === 'yes' }),
    })}
    ${choiceField({
      id: id('position'),
      label: 'Whose position was logged?',
      value: answers.loggedPosition ?? NOT_SAID,
      choices: POSITIONS,
      take: (position) => answer({ loggedPosition: position === NOT_SAID ? null : position }),
    })}
  `;
}

function unanswered(heading: string): YieldColumnAnswers {
  return {
    heading,
    moistureBasis: null,
    atMoisturePercent: null,
    lagAppliedS: null,
    alreadyFiltered: null,
    loggedPosition: null,
  };
}

function keepAnswer(file: HarvestFile, answers: YieldColumnAnswers): boolean {
  const others = file.yieldColumns.filter(({ heading }) => heading !== answers.heading);
  return dispatch({
    name: 'changeHarvestFile',
    path: file.path,
    changes: { yieldColumns: [...others, answers] },
  });
}
