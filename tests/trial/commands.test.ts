import { describe, expect, it } from 'vitest';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand, type TrialCommand } from '../../src/trial/commands.ts';
import { setAtPath } from '../../src/trial/set-at-path.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { smallTrial } from './trials.ts';

function applied(command: TrialCommand, trial: TrialDocument = smallTrial()): TrialDocument {
  const outcome = applyCommand(trial, command);
  if (!outcome.ok) throw new Error(`expected a trial, got ${JSON.stringify(outcome.problems)}`);
  return outcome.value;
}

function objection(command: TrialCommand) {
  const outcome = applyCommand(smallTrial(), command);
  if (outcome.ok) throw new Error('expected a problem, got a trial');
  return outcome.problems[0]!;
}

describe('commands', () => {
  it('leave the document they started from as it was', () => {
    const before = smallTrial();
    const text = JSON.stringify(before);
    applied({ name: 'changeTreatment', id: 'leaf', changes: { costPerHa: 99 } }, before);
    applied({ name: 'setField', path: 'strips.s1.place', value: 9 }, before);
    applied({ name: 'removeStrip', id: 's1' }, before);
    expect(JSON.stringify(before)).toBe(text);
  });

  it('change one entry by its id', () => {
    const trial = applied({ name: 'changeTreatment', id: 'leaf', changes: { costPerHa: 99 } });
    expect(trial.treatments.map(({ costPerHa }) => costPerHa)).toEqual([null, 99]);
    expect(applied({ name: 'changeStrip', id: 's2', changes: { place: 7 } }).strips[1]!.place).toBe(7);
    expect(applied({ name: 'describeTrial', changes: { crop: 'wheat' } }).crop).toBe('wheat');
    expect(applied({ name: 'changeEconomics', changes: { pricePerKg: 0.2 } }).economics.pricePerKg).toBe(0.2);
    expect(applied({ name: 'changeHarvestSettings', changes: { endMarginM: 5 } }).harvest.endMarginM).toBe(5);
  });

  it('keep one check at most', () => {
    const checks = (trial: TrialDocument) => trial.treatments.filter((t) => t.isCheck).map(({ id }) => id);
    expect(checks(applied({ name: 'chooseCheck', id: 'leaf' }))).toEqual(['leaf']);
    expect(checks(applied({ name: 'chooseCheck', id: null }))).toEqual([]);
  });

  it('refuse to remove a treatment that lies on strips, and drop its pairs with it elsewhere', () => {
    expect(objection({ name: 'removeTreatment', id: 'leaf' })).toMatchObject({
      code: 'treatmentInUse',
      details: { treatment: 'leaf', strips: 2 },
    });
    const bare = smallTrial({ strips: [] });
    const paired = applied(
      { name: 'changeInference', changes: { namedPairs: [['leaf', 'untreated']] } },
      bare,
    );
    const trial = applied({ name: 'removeTreatment', id: 'leaf' }, paired);
    expect(trial.treatments.map(({ id }) => id)).toEqual(['untreated']);
    expect(trial.inference.namedPairs).toEqual([]);
  });

  it('never leave a document that could not be opened again', () => {
    const broken = objection({ name: 'changeStrip', id: 's1', changes: { treatment: 'nobody' } });
    expect(broken).toMatchObject({ code: 'trialDamaged', details: { path: 'strips.0.treatment' } });
    expect(objection({ name: 'setField', path: 'inference.alpha', value: 2 }).code).toBe('trialDamaged');
  });

  it('know treatments of a new layout by id or name, and keep their costs, the check and those it lacks', () => {
    const fresh = { costPerHa: null, applicationCostPerHa: null };
    const strip = { id: 'n1', treatment: 'LEAF FEED', block: null, place: 1, polygon: null };
    const layout = {
      file: null,
      treatments: [
        { id: 'LEAF FEED', name: 'leaf feed', isCheck: false, ...fresh },
        { id: 'new', name: 'New', isCheck: true, ...fresh },
      ],
      blocks: [],
      strips: [strip],
    };
    const trial = applied({ name: 'takeLayout', layout });
    expect(trial.treatments.map(({ id, costPerHa, isCheck }) => [id, costPerHa, isCheck])).toEqual([
      ['untreated', null, true],
      ['leaf', 30, false],
      ['new', null, false],
    ]);
    expect(trial.strips).toEqual([{ ...strip, treatment: 'leaf' }]);
  });

  it('take a harvest file of the same name in place of the old one', () => {
    const file = { path: 'a.csv', kind: 'points' as const, columns: {}, yieldColumns: [] };
    const once = applied({ name: 'takeHarvestFile', file });
    const twice = applied({ name: 'takeHarvestFile', file: { ...file, kind: 'hand' } }, once);
    expect(twice.harvestFiles).toEqual([{ ...file, kind: 'hand' }]);
    const changed = applied(
      {
        name: 'changeHarvestFile',
        path: 'a.csv',
        changes: { columns: { yield: { heading: 'Y', unit: null } } },
      },
      twice,
    );
    expect(changed.harvestFiles[0]!.columns.yield!.heading).toBe('Y');
    expect(applied({ name: 'removeHarvestFile', path: 'a.csv' }, changed).harvestFiles).toEqual([]);
  });
});

describe('the stamp', () => {
  const at = '2026-09-01T10:00:00Z';

  it('is set once and never overwritten', () => {
    const stamped = applied({ name: 'stampSettings', at });
    const changed = applied({ name: 'changeInference', changes: { alpha: 0.1 } }, stamped);
    const again = applied({ name: 'stampSettings', at: '2026-10-01T10:00:00Z' }, changed);
    expect(again.stamp).toEqual(stamped.stamp);
    expect(again.stamp!.inference.alpha).toBe(0.05);
  });

  it('lists what changed after it, but neither money nor names', () => {
    const stamped = applied({ name: 'stampSettings', at });
    expect(changedAfterSeeing(stamped)).toEqual([]);
    expect(changedAfterSeeing(smallTrial())).toEqual([]);
    let trial = applied({ name: 'changeInference', changes: { marginKgPerHa: 200 } }, stamped);
    trial = applied({ name: 'changeHarvestSettings', changes: { endMarginM: 25 } }, trial);
    trial = applied({ name: 'changeEconomics', changes: { pricePerKg: 0.3 } }, trial);
    trial = applied({ name: 'describeTrial', changes: { name: 'Other' } }, trial);
    expect(changedAfterSeeing(trial)).toEqual([
      { path: 'inference.marginKgPerHa', before: 'null', now: '200' },
      { path: 'harvest.endMarginM', before: '20', now: '25' },
    ]);
  });

  it('no longer lists what was set back', () => {
    const stamped = applied({ name: 'stampSettings', at });
    const there = applied({ name: 'changeInference', changes: { alpha: 0.1 } }, stamped);
    expect(changedAfterSeeing(applied({ name: 'changeInference', changes: { alpha: 0.05 } }, there))).toEqual(
      [],
    );
  });
});

describe('setting a field by its path', () => {
  const trial = smallTrial();

  it('finds entries of a list by number and by id', () => {
    expect(setAtPath(trial, 'treatments.1.costPerHa', 5)).toEqual(
      setAtPath(trial, 'treatments.leaf.costPerHa', 5),
    );
    expect(setAtPath(trial, 'treatments.leaf.costPerHa', 5)!.treatments[1]!.costPerHa).toBe(5);
    expect(setAtPath(trial, 'name', 'X')!.name).toBe('X');
  });

  it.each([
    '',
    'nme',
    'treatments.9.costPerHa',
    'treatments.leaf',
    'strips.length',
    'name.first',
    '__proto__.x',
    'constructor.name',
  ])('knows no field %j', (path) => {
    const known = path === 'treatments.leaf';
    expect(setAtPath(trial, path, 1) === null).toBe(!known);
  });

  it('reaches what a document may leave out, and nothing that no document has', () => {
    expect(
      applied({ name: 'setField', path: 'inference.machineTerm', value: true }).inference.machineTerm,
    ).toBe(true);
    expect(applied({ name: 'setField', path: 'strips.s1.passes', value: [2] }).strips[0]?.passes).toEqual([
      2,
    ]);
    expect(objection({ name: 'setField', path: 'strips.s1.passes', value: 'x' }).code).toBe('trialDamaged');
    for (const path of [
      'strips.99',
      'strips.s1.nothing',
      'strips.length',
      'harvest.__proto__',
      'layoutMove.x',
    ])
      expect(objection({ name: 'setField', path, value: 1 }).code).toBe('noSuchField');
  });

  it('is a named problem as a command', () => {
    const problem = objection({ name: 'setField', path: 'harvest.endMargin', value: 3 });
    expect(problem).toMatchObject({ code: 'noSuchField', details: { path: 'harvest.endMargin' } });
    expect(({} as Record<string, unknown>).x).toBeUndefined();
  });
});

it('a new trial starts with settings that hold', () => {
  expect(applyCommand(newTrial(''), { name: 'describeTrial', changes: {} }).ok).toBe(true);
});

describe('areas left out', () => {
  const ring: [number, number][] = [
    [20, 45],
    [20.001, 45],
    [20.001, 45.001],
    [20, 45],
  ];
  const polygon = { type: 'Polygon' as const, coordinates: [ring] };
  const area = { id: 'a1', reason: 'hail' as const, note: '', strip: null, polygon };

  it('come, change and go, and leave the document as it was', () => {
    const drawn = applied({ name: 'addExclusion', area });
    expect(drawn.harvest.exclusions).toEqual([area]);
    const changed = applied({ name: 'changeExclusion', id: 'a1', changes: { reason: 'wetHole' } }, drawn);
    expect(changed.harvest.exclusions).toEqual([{ ...area, reason: 'wetHole' }]);
    expect(applied({ name: 'removeExclusion', id: 'a1' }, changed)).toEqual(smallTrial());
  });

  it('for one strip need a reason in words and a strip that is there, and go with it', () => {
    const forStrip = (strip: string, note: string) => ({
      name: 'addExclusion' as const,
      area: { ...area, strip, note },
    });
    expect(objection(forStrip('s1', ' ')).details).toMatchObject({ path: 'harvest.exclusions.0.note' });
    expect(objection(forStrip('nowhere', 'hail')).details).toMatchObject({
      path: 'harvest.exclusions.0.strip',
    });
    const drawn = applied(forStrip('s1', 'hail fell here alone'));
    expect(applied({ name: 'removeStrip', id: 's1' }, drawn).harvest.exclusions).toBeUndefined();
  });

  it('drawn after the harvest was seen are listed, by why and where', () => {
    const seen = applied({ name: 'stampSettings', at: '2026-01-02T03:04:05Z' });
    const drawn = applied({ name: 'addExclusion', area }, seen);
    expect(changedAfterSeeing(drawn)).toEqual([
      { path: 'harvest.exclusions', before: '[]', now: '["a1: hail"]' },
    ]);
  });
});
