import { describe, expect, it } from 'vitest';
import { harvestSettingsSchema, inferenceSchema } from '../../src/trial/trial-document.ts';
import { lateChangeWords, SETTINGS_WITH_WORDS } from '../../src/words/setting-words.ts';

describe('settings in words', () => {
  it('are all those whose later change is told', () => {
    const paths = [
      ...Object.keys(inferenceSchema.entries).map((key) => `inference.${key}`),
      ...Object.keys(harvestSettingsSchema.entries).map((key) => `harvest.${key}`),
      ...[
        'design',
        'strips',
        'treatment',
        'block',
        'outlines',
        'row',
        'column',
        'covariate',
        'factorLevels',
        'application',
        'passes',
      ].map((key) => `layout.${key}`),
      'layoutMove',
    ];
    expect([...SETTINGS_WITH_WORDS].sort()).toEqual(paths.sort());
  });

  it('tell what was and what is', () => {
    const change = { path: 'inference.decidedBy', before: '"auto"', now: 'null' };
    expect(lateChangeWords(change)).toBe('the deciding procedure: was auto, is not set');
    const ofFile = { path: 'files.shiftLagS.my field.csv', before: 'null', now: '-2.5' };
    expect(lateChangeWords(ofFile)).toBe('the shift of the flow (s) in my field.csv: was not set, is -2.5');
  });
});
