import { describe, expect, it } from 'vitest';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import type { Progress } from '../../src/pipeline/input-file.ts';
import { KeptWork } from '../../src/pipeline/kept-work.ts';
import { applyCommand, type TrialCommand } from '../../src/trial/commands.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { demoFile, demoTrial } from './demo-input.ts';

/** Law: what was kept changes nothing but the time; the report equals that of a run that knows of no other. */
const FILES = [demoFile('layout.geojson'), demoFile('harvest.csv')];

async function stagesAndRun(trial: TrialDocument, kept: KeptWork) {
  const stages = new Set<Progress['stage']>();
  const run = await analyseTrial(trial, FILES, { kept, onProgress: ({ stage }) => stages.add(stage) });
  return { stages: [...stages], run };
}

function edited(trial: TrialDocument, command: TrialCommand): TrialDocument {
  const outcome = applyCommand(trial, command);
  if (!outcome.ok) throw new Error(`the edit ${command.name} was refused`);
  return outcome.value;
}

const id = demoTrial().treatments[1]?.id ?? '';
const stripId = demoTrial().strips[0]?.id ?? '';
const path = demoTrial().harvestFiles[0]?.path ?? '';
const NOT_READ_AGAIN: readonly TrialCommand[] = [
  { name: 'changeEconomics', changes: { pricePerKg: 0.31 } },
  { name: 'describeTrial', changes: { name: 'Another name', notes: 'hail' } },
  { name: 'changeInference', changes: { alpha: 0.1 } },
  { name: 'changeTreatment', id, changes: { costPerHa: 99 } },
  { name: 'changeTreatment', id, changes: { factorLevels: ['early', 'high'] } },
  { name: 'changeStrip', id: stripId, changes: { row: '1', column: '2', covariate: 3 } },
];

describe('work kept between edits', () => {
  it.each(NOT_READ_AGAIN)('$name: the files are neither read nor placed again', async (command) => {
    const kept = new KeptWork();
    expect((await stagesAndRun(demoTrial(), kept)).stages).toEqual(['reading', 'placing', 'analysing']);
    const changed = edited(demoTrial(), command);
    const again = await stagesAndRun(changed, kept);
    expect(again.stages).toEqual(['analysing']);
    expect(again.run.report).toEqual((await analyseTrial(changed, FILES)).report);
  });

  it('another screen places anew, on the points that were parsed', async () => {
    const kept = new KeptWork();
    await stagesAndRun(demoTrial(), kept);
    const changed = edited(demoTrial(), { name: 'changeHarvestSettings', changes: { endMarginM: 5 } });
    const again = await stagesAndRun(changed, kept);
    expect(again.stages).toContain('placing');
    expect(again.run.report).toEqual((await analyseTrial(changed, FILES)).report);
  });

  it('what is set for one file alone is taken up, on the points that were parsed', async () => {
    const kept = new KeptWork();
    await stagesAndRun(demoTrial(), kept);
    const changes = { calibrationFactor: 1.1, shiftMoistureS: 2, machine: 'old' };
    const changed = edited(demoTrial(), { name: 'changeHarvestFile', path, changes });
    const again = await stagesAndRun(changed, kept);
    expect(again.run.report).toEqual((await analyseTrial(changed, FILES)).report);
    expect(again.run.report.trial.changedAfterSeeing).toEqual([]);
    expect(again.run.report.trial.assumptions.join(' ')).toContain('multiplied by 1.1');
  });

  it('work that failed is done anew', async () => {
    const kept = new KeptWork();
    let calls = 0;
    const work = async () => {
      calls += 1;
      if (calls === 1) throw new Error('once');
      return calls;
    };
    await expect(kept.reuse('a', 'key', work)).rejects.toThrow('once');
    expect(await kept.reuse('a', 'key', work)).toBe(2);
    expect(await kept.reuse('a', 'key', work)).toBe(2);
    expect(await kept.reuse('a', 'other key', work)).toBe(3);
  });
});
