import { describe, expect, it } from 'vitest';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand, type TrialCommand } from '../../src/trial/commands.ts';
import { openTrial, trialText } from '../../src/trial/open-trial.ts';
import type { HarvestFile, TrialDocument } from '../../src/trial/trial-document.ts';
import { type Place, trialOfStrips } from '../harvest/field-of-strips.ts';
import { smallTrial } from './trials.ts';

const FILE: HarvestFile = { path: 'my field.csv', kind: 'points', columns: {}, yieldColumns: [] };

function edited(trial: TrialDocument, ...commands: readonly TrialCommand[]): TrialDocument {
  return commands.reduce((before, command) => {
    const outcome = applyCommand(before, command);
    if (!outcome.ok) throw new Error(`${command.name} was refused: ${JSON.stringify(outcome.problems)}`);
    return outcome.value;
  }, trial);
}

const seen = edited(
  smallTrial(),
  { name: 'takeHarvestFile', file: FILE },
  { name: 'stampSettings', at: '2026-09-01T10:00:00Z' },
);
const changeFile = (changes: Partial<HarvestFile>): TrialCommand => ({
  name: 'changeHarvestFile',
  path: FILE.path,
  changes,
});

describe('changes after harvest was seen', () => {
  it('list shifts and calibration of a file, and not who drove it', () => {
    const trial = edited(seen, changeFile({ shiftLagS: 4, calibrationFactor: 1.05, operator: 'first' }));
    expect(changedAfterSeeing(trial)).toEqual([
      { path: 'files.shiftLagS.my field.csv', before: 'null', now: '4' },
      { path: 'files.calibrationFactor.my field.csv', before: 'null', now: '1.05' },
    ]);
    expect(
      changedAfterSeeing(edited(trial, changeFile({ shiftLagS: null, calibrationFactor: null }))),
    ).toEqual([]);
  });

  it('compare with what stood for a file before', () => {
    const set = edited(
      smallTrial(),
      { name: 'takeHarvestFile', file: { ...FILE, shiftMoistureS: -2 } },
      { name: 'stampSettings', at: '2026-09-01T10:00:00Z' },
    );
    expect(changedAfterSeeing(set)).toEqual([]);
    expect(changedAfterSeeing(edited(set, changeFile({ shiftMoistureS: 3 })))).toEqual([
      { path: 'files.shiftMoistureS.my field.csv', before: '-2', now: '3' },
    ]);
  });

  it('list what strips count as, strip by strip', () => {
    const trial = edited(
      seen,
      { name: 'changeStrip', id: 's1', changes: { row: '1', covariate: 3.5 } },
      { name: 'changeTreatment', id: 'leaf', changes: { factorLevels: ['early', 'high'] } },
      { name: 'describeTrial', changes: { design: 'completelyRandomized' } },
    );
    expect(changedAfterSeeing(trial)).toEqual([
      { path: 'layout.design', before: '"randomizedCompleteBlocks"', now: '"completelyRandomized"' },
      { path: 'layout.row', before: '["s1: not set"]', now: '["s1: 1"]' },
      { path: 'layout.covariate', before: '["s1: not set"]', now: '["s1: 3.5"]' },
      { path: 'layout.factorLevels', before: '["leaf: not set"]', now: '["leaf: early × high"]' },
    ]);
  });

  it('list strips that came and went, but not the first layout of a trial that had none', () => {
    const without = edited(seen, { name: 'removeStrip', id: 's4' });
    const [strip] = smallTrial().strips;
    const more = { ...without, strips: [...without.strips, { ...strip!, id: 's9' }] };
    expect(changedAfterSeeing(more)).toEqual([
      {
        path: 'layout.strips',
        before: '["s4: a strip","s9: no strip"]',
        now: '["s4: no strip","s9: a strip"]',
      },
    ]);
    const { treatments, blocks, strips } = smallTrial();
    const late = edited(
      smallTrial({ strips: [], blocks: [] }),
      { name: 'stampSettings', at: '2026-09-01T10:00:00Z' },
      { name: 'takeLayout', layout: { file: null, treatments, blocks, strips } },
    );
    expect(changedAfterSeeing(late)).toEqual([]);
    expect(changedAfterSeeing(edited(late, { name: 'removeStrip', id: 's1' }))).toHaveLength(1);
  });

  it('list the weight of a bushel, and a machine, operator or day that is another one', () => {
    const paths = (trial: TrialDocument) => changedAfterSeeing(trial).map(({ path }) => path);
    const said = changeFile({ kgPerBushel: 25.4, machine: 'old', operator: 'first', day: 'Monday' });
    const named = edited(seen, said);
    expect(paths(named)).toEqual(['files.kgPerBushel.my field.csv']);
    const term: TrialCommand = { name: 'changeInference', changes: { machineTerm: true } };
    expect(paths(edited(named, term))).toContain('files.machine.my field.csv');
    const restamped = edited(
      { ...named, stamp: null },
      { name: 'stampSettings', at: '2026-09-01T10:00:00Z' },
    );
    const other = changeFile({ kgPerBushel: null, machine: 'new', operator: 'second', day: null });
    expect(changedAfterSeeing(edited(restamped, other))).toEqual([
      { path: 'files.kgPerBushel.my field.csv', before: '25.4', now: 'null' },
      { path: 'files.machine.my field.csv', before: '"old"', now: '"new"' },
      { path: 'files.operator.my field.csv', before: '"first"', now: '"second"' },
      { path: 'files.day.my field.csv', before: '"Monday"', now: 'null' },
    ]);
  });

  it('list a layout that is replaced by one of the same strips: outlines that lie otherwise, and treatments', () => {
    const planned = trialOfStrips(4, 12, 300);
    const stamped = edited(planned, { name: 'stampSettings', at: '2026-09-01T10:00:00Z' });
    const take = (strips: TrialDocument['strips']): TrialCommand => ({
      name: 'takeLayout',
      layout: { file: null, treatments: planned.treatments, blocks: planned.blocks, strips },
    });
    const outlines = (trial: TrialDocument) =>
      changedAfterSeeing(trial).map(({ path, now }) => [path, JSON.parse(now)]);
    expect(outlines(edited(stamped, take(planned.strips)))).toEqual([]);
    // Laws: all strips 20 m to the east are moved by 20 m; two of one strip's treatments changed are two.
    const east: Place = (eastM, northM) => [eastM + 20, northM];
    expect(outlines(edited(stamped, take(trialOfStrips(4, 12, 300, east).strips)))).toEqual([
      ['layout.outlines', '4 of 4 strips lie otherwise, by up to 20.0 m: s1, s2, s3, s4'],
    ]);
    const [first, second, ...rest] = planned.strips;
    const swapped = [{ ...first!, treatment: 'B' }, { ...second!, treatment: 'A', polygon: null }, ...rest];
    expect(outlines(edited(stamped, take(swapped)))).toEqual([
      ['layout.treatment', ['s1: B', 's2: A']],
      ['layout.outlines', 'no longer drawn: s2'],
    ]);
    // The same outlines with fewer digits, 0.1 mm off, are no others.
    const rounded = JSON.parse(
      JSON.stringify(planned.strips, (_, value) =>
        typeof value === 'number' ? Number(value.toFixed(9)) : value,
      ),
    );
    expect(outlines(edited(stamped, take(rounded)))).toEqual([]);
    const longer = edited(stamped, take(trialOfStrips(4, 12, 300.1).strips));
    expect(outlines(longer)[0]?.[1]).toContain('with other corners');
  });

  it('tell a renumbering that the removal of a strip settled with the move, not as other outlines', () => {
    const stamped = edited(trialOfStrips(4, 12, 300), { name: 'stampSettings', at: '2026-09-01T10:00:00Z' });
    const move = {
      eastM: 0,
      northM: 0,
      turnDegrees: 0,
      mirrored: false,
      renumbered: true,
      how: 'byHand',
    } as const;
    const trial = edited(stamped, { name: 'moveLayout', move }, { name: 'removeStrip', id: 's1' });
    expect(changedAfterSeeing(trial).map(({ path }) => path)).toEqual(['layoutMove', 'layout.strips']);
  });

  it('say nothing of what an older stamp does not hold', () => {
    const { layout: _, files: _files, fileFacts: _facts, ...older } = seen.stamp!;
    const trial = edited({ ...seen, stamp: older }, { name: 'changeStrip', id: 's1', changes: { row: '1' } });
    expect(changedAfterSeeing(trial)).toEqual([]);
    expect(openTrial(trialText(trial)).ok).toBe(true);
    const strips = seen.stamp!.layout!.strips.map(({ polygon: _polygon, ...strip }) => strip);
    const unoutlined = { ...seen.stamp!, layout: { ...seen.stamp!.layout!, strips } };
    const drawn = { ...seen, stamp: unoutlined, strips: trialOfStrips(4, 12, 300).strips };
    expect(changedAfterSeeing(drawn).map(({ path }) => path)).not.toContain('layout.outlines');
    expect(openTrial(trialText({ ...seen, stamp: unoutlined })).ok).toBe(true);
  });
});
