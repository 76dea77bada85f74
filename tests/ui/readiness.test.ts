import { describe, expect, it } from 'vitest';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { Treatment, TrialDocument } from '../../src/trial/trial-document.ts';
import type { AnalysisState } from '../../src/ui/state/analysis.ts';
import { absentFiles, isSameFile, readinessOf } from '../../src/ui/state/readiness.ts';

/** Source: design.md, Screens: the stage bar says what is ready and what is missing. */

const NOTHING: AnalysisState = { stage: 'nothing', progress: null, last: null, reason: null };

function treatment(id: string, isCheck: boolean): Treatment {
  return { id, name: id, isCheck, costPerHa: null, applicationCostPerHa: null };
}

function trialWith(changes: Partial<TrialDocument>): TrialDocument {
  return { ...newTrial('A trial'), ...changes };
}

describe('the stage bar', () => {
  it('says of an empty trial what is missing at every stage', () => {
    const stages = readinessOf(newTrial(''), [], NOTHING);
    expect(Object.values(stages).map(({ state }) => state)).toEqual(Array(5).fill('missing'));
    expect(Object.values(stages).every(({ says }) => says !== '')).toBe(true);
  });

  it('says of an answer that was stopped that it was, and has nothing to print before there is one', () => {
    const { answer, handout } = readinessOf(newTrial(''), [], { ...NOTHING, stage: 'cancelled' });
    expect(answer).toEqual({ state: 'look', says: 'was stopped' });
    expect(handout.state).toBe('missing');
  });

  it('asks to look at treatments without a check', () => {
    const trial = trialWith({ treatments: [treatment('a', false), treatment('b', false)] });
    expect(readinessOf(trial, [], NOTHING).trial).toEqual({ state: 'look', says: 'no check named' });
  });

  it('asks for a harvest file that the trial names and the browser does not hold', () => {
    const trial = trialWith({
      harvestFiles: [{ path: 'data/harvest.csv', kind: 'points', columns: {}, yieldColumns: [] }],
    });
    expect(readinessOf(trial, [], NOTHING).harvest.state).toBe('missing');
    const held = [{ name: 'harvest.csv', bytes: new Blob([]) }];
    expect(readinessOf(trial, held, NOTHING).harvest.state).toBe('ready');
  });

  it('asks for a log of the application in the same way, and for a layout only where there are no strips', () => {
    const file = { path: 'data/harvest.csv', kind: 'points' as const, columns: {}, yieldColumns: [] };
    const log = { path: 'sprayed.csv', columns: {}, swathM: null, products: [] };
    const layoutFile = { path: 'layout.geojson', properties: { strip: null, treatment: null, block: null } };
    const trial = trialWith({ harvestFiles: [file], applicationFiles: [log], layoutFile });
    const held = [{ name: 'harvest.csv', bytes: new Blob([]) }];
    expect(readinessOf(trial, held, NOTHING).harvest).toEqual({
      state: 'missing',
      says: '1 file to add again',
    });
    expect(absentFiles(trial, held)).toEqual(['layout.geojson', 'sprayed.csv']);
    const strips = [{ id: '1', treatment: 'a', block: null, place: null, polygon: null }];
    expect(absentFiles({ ...trial, strips }, held)).toEqual(['sprayed.csv']);
  });

  it('asks to look at the layout where a log of the application asks something', () => {
    const strips = [{ id: '1', treatment: 'a', block: 'b', place: null, polygon: null }];
    const trial = trialWith({ strips });
    expect(readinessOf(trial, [], NOTHING).layout.state).toBe('ready');
    const last = { report: { problems: [{ code: 'askProductMeaning' }], responses: [] }, recognitions: [] };
    const asking = { ...NOTHING, last: last as unknown as AnalysisState['last'] };
    expect(readinessOf(trial, [], asking).layout).toEqual({ state: 'look', says: 'a log asks something' });
  });

  it('knows a file by the last part of its path', () => {
    expect(isSameFile('harvest.csv', 'C:\\fields\\harvest.csv')).toBe(true);
    expect(isSameFile('harvest.csv', 'other.csv')).toBe(false);
  });
});
