import { describe, expect, it } from 'vitest';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand, type TrialCommand } from '../../src/trial/commands.ts';
import { openTrial, trialText } from '../../src/trial/open-trial.ts';
import { TRIAL_VERSION, type TrialDocument } from '../../src/trial/trial-document.ts';
import { smallTrial } from './trials.ts';

describe('an older document', () => {
  it.each([1, 2])('of version %d opens as this version and keeps all that it held', (version) => {
    const { version: _, ...kept } = smallTrial();
    const opened = openTrial(JSON.stringify({ ...kept, version, soilSamples: 3 }));
    expect(opened.ok && JSON.parse(trialText(opened.value))).toEqual({
      ...kept,
      version: TRIAL_VERSION,
      soilSamples: 3,
    });
  });
});

function edited(trial: TrialDocument, ...commands: readonly TrialCommand[]): TrialDocument {
  return commands.reduce((before, command) => {
    const after = applyCommand(before, command);
    if (!after.ok) throw new Error(JSON.stringify(after.problems));
    return after.value;
  }, trial);
}

const CONTRAST = [
  { treatment: 'leaf', weight: 1 },
  { treatment: 'untreated', weight: -1 },
];

describe('settings of the design', () => {
  it('are listed where they change after the harvest was seen', () => {
    const factors = { first: 'product', second: 'timing', split: true };
    const seen = edited(
      smallTrial(),
      { name: 'stampSettings', at: '2026-08-01T10:00:00Z' },
      {
        name: 'changeInference',
        changes: { covariate: 'stand', square: true, factors, contrasts: [CONTRAST] },
      },
    );
    expect(changedAfterSeeing(seen).map(({ path }) => path)).toEqual([
      'inference.contrasts',
      'inference.covariate',
      'inference.factors',
      'inference.square',
    ]);
  });

  it('refuse a contrast of nobody, or one that does not add up to zero', () => {
    const reasonOf = (contrast: typeof CONTRAST) => {
      const after = applyCommand(smallTrial(), {
        name: 'changeInference',
        changes: { contrasts: [contrast] },
      });
      return after.ok ? null : after.problems[0]!.details.reason;
    };
    expect(reasonOf(CONTRAST)).toBeNull();
    expect(reasonOf([CONTRAST[0]!, { treatment: 'gone', weight: -1 }])).toMatch(
      /no treatment has the id "gone"/,
    );
    expect(reasonOf([CONTRAST[0]!, { treatment: 'untreated', weight: -0.5 }])).toMatch(/add up to 0.5/);
  });

  it('let go of a contrast whose treatment is removed', () => {
    const added = { id: 'new', name: 'New', isCheck: false, costPerHa: null, applicationCostPerHa: null };
    const contrasts = [CONTRAST, [CONTRAST[0]!, { treatment: 'new', weight: -1 }]];
    const trial = edited(
      smallTrial(),
      { name: 'addTreatment', treatment: added },
      { name: 'changeInference', changes: { contrasts } },
      { name: 'removeTreatment', id: 'new' },
    );
    expect(trial.inference.contrasts).toEqual([CONTRAST]);
  });
});
