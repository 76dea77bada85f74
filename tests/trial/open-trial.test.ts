import { describe, expect, it } from 'vitest';
import { openTrial, trialText, validateTrial } from '../../src/trial/open-trial.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import { TRIAL_VERSION } from '../../src/trial/trial-document.ts';
import { smallTrial } from './trials.ts';

function problemOf(text: string) {
  const opened = openTrial(text, 'trial.json');
  if (opened.ok) throw new Error('expected a problem, got a trial');
  expect(opened.problems).toHaveLength(1);
  return opened.problems[0]!;
}

function damaged(change: (document: Record<string, unknown>) => void) {
  const document = JSON.parse(trialText(smallTrial()));
  change(document);
  return problemOf(JSON.stringify(document));
}

describe('opening a trial document', () => {
  it('gives back what was saved, with a byte order mark or without', () => {
    const text = trialText(smallTrial());
    for (const saved of [text, `\uFEFF${text}`]) {
      const opened = openTrial(saved);
      expect(opened.ok && opened.value).toEqual(smallTrial());
    }
    expect(validateTrial(newTrial('Empty')).ok).toBe(true);
  });

  it('lets fields that this version does not know survive a round trip, wherever they stand', () => {
    const document = JSON.parse(trialText(smallTrial()));
    document.soilSamples = [{ depthCm: 30 }];
    document.treatments[1].batch = 'L-7';
    document.harvest.laterScreen = null;
    const text = `${JSON.stringify(document, null, 2)}\n`;
    const opened = openTrial(text);
    expect(opened.ok && trialText(opened.value)).toBe(text);
  });

  it('tells apart what is not JSON, not ours, and too new', () => {
    expect(problemOf('{"format": ')).toMatchObject({ code: 'trialNotJson', file: 'trial.json' });
    for (const other of ['[]', 'null', '7', '{}', '{"type": "FeatureCollection"}'])
      expect(problemOf(other).code).toBe('trialNotOurs');
    const newer = damaged((document) => {
      document.version = TRIAL_VERSION + 1;
    });
    expect(newer).toMatchObject({
      code: 'trialTooNew',
      details: { version: TRIAL_VERSION + 1, newestKnown: TRIAL_VERSION },
    });
  });

  it.each([
    ['a cost below zero', 'treatments.1.costPerHa', (d: Document) => (d.treatments[1]!.costPerHa = -1)],
    ['text for a number', 'inference.alpha', (d: Document) => (d.inference.alpha = '5 %')],
    ['a level outside its range', 'inference.alpha', (d: Document) => (d.inference.alpha = 0.7)],
    ['a margin of zero', 'inference.marginKgPerHa', (d: Document) => (d.inference.marginKgPerHa = 0)],
    ['a blank name', 'treatments.0.name', (d: Document) => (d.treatments[0]!.name = '  ')],
    ['an unknown unit system', 'unitSystem', (d: Document) => (d.unitSystem = 'imperial')],
    ['an id used twice', 'strips.1.id', (d: Document) => (d.strips[1]!.id = 's1')],
    ['a strip of no treatment', 'strips.0.treatment', (d: Document) => (d.strips[0]!.treatment = 'gone')],
    ['a strip of no block', 'strips.2.block', (d: Document) => (d.strips[2]!.block = 'gone')],
    ['two checks', 'treatments', (d: Document) => (d.treatments[1]!.isCheck = true)],
    [
      'a pair with itself',
      'inference.namedPairs.0',
      (d: Document) => (d.inference.namedPairs = [['leaf', 'leaf']]),
    ],
    [
      'a pair of nobody',
      'inference.namedPairs.0',
      (d: Document) => (d.inference.namedPairs = [['leaf', 'x']]),
    ],
  ])('names the path of the damage: %s', (_, path, change) => {
    const problem = damaged((document) => change(document as unknown as Document));
    expect(problem.code).toBe('trialDamaged');
    expect(problem.details.path).toBe(path);
  });

  it('says when a field is missing altogether', () => {
    const problem = damaged((document) => {
      delete document.harvest;
    });
    expect(problem).toMatchObject({ code: 'trialDamaged', details: { path: 'harvest' } });
  });
});

/** Loose on purpose: these tests put in what does not belong. */
interface Document {
  treatments: Record<string, unknown>[];
  strips: Record<string, unknown>[];
  inference: Record<string, unknown>;
  unitSystem: unknown;
}
