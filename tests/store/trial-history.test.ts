import { describe, expect, it } from 'vitest';
import { edit, redo, startHistory, undo } from '../../src/store/trial-history.ts';
import type { TrialCommand } from '../../src/trial/commands.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';

/** Laws of undo (source: their definition): undo after an edit gives what stood before, redo gives the edit back. */

const rename: TrialCommand = { name: 'describeTrial', changes: { name: 'Renamed' } };
const cheaper: TrialCommand = { name: 'changeEconomics', changes: { pricePerKg: 0.2 } };
const stamp: TrialCommand = { name: 'stampSettings', at: '2026-08-01T10:00:00.000Z' };
const impossible: TrialCommand = { name: 'changeInference', changes: { alpha: 7 } };

function edited(...commands: TrialCommand[]) {
  let history = startHistory(newTrial('First'));
  for (const command of commands) {
    const outcome = edit(history, [command]);
    if (!outcome.ok) throw new Error(`expected an edit, got ${outcome.problems[0]?.code}`);
    history = outcome.value;
  }
  return history;
}

describe('trial history', () => {
  it('undoes to what stood before each edit, and redoes to what stood after', () => {
    const history = edited(rename, cheaper);
    const back = undo(undo(history));
    expect(back.present).toEqual(newTrial('First'));
    expect(redo(redo(back)).present).toEqual(history.present);
  });

  it('takes several commands as one step', () => {
    const outcome = edit(startHistory(newTrial('First')), [rename, cheaper]);
    expect(outcome.ok && outcome.value.past.length).toBe(1);
    expect(outcome.ok && undo(outcome.value).present).toEqual(newTrial('First'));
  });

  it('takes all commands of a step or none', () => {
    const history = startHistory(newTrial('First'));
    const outcome = edit(history, [rename, impossible]);
    expect(outcome.ok).toBe(false);
    expect(outcome.problems[0]?.code).toBe('trialDamaged');
    expect(history.present.name).toBe('First');
  });

  it('leaves no step where nothing changed', () => {
    const outcome = edit(startHistory(newTrial('First')), [
      { name: 'describeTrial', changes: { name: 'First' } },
    ]);
    expect(outcome.ok && outcome.value.past).toEqual([]);
  });

  it('forgets what was undone once something else is done', () => {
    const again = edit(undo(edited(rename)), [cheaper]);
    expect(again.ok && again.value.future).toEqual([]);
  });

  it('keeps the stamp through undo: harvest data, once seen, have been seen', () => {
    const history = edited(rename, stamp, cheaper);
    const back = undo(undo(undo(history)));
    expect(back.present.name).toBe('First');
    expect(back.present.stamp?.at).toBe('2026-08-01T10:00:00.000Z');
  });

  it('does nothing at either end', () => {
    const history = startHistory(newTrial('First'));
    expect(undo(history)).toBe(history);
    expect(redo(history)).toBe(history);
  });
});
