import { createHash } from 'node:crypto';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { type ReportModel, reportModelSchema } from '../../src/findings/report-model.ts';
import { wholeOf } from '../../src/intake/file-bytes.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { takeFiles, trialFromFiles } from '../../src/pipeline/trial-from-files.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { demoFile, demoTrial, textFile } from './demo-input.ts';

const LAYOUT = demoFile('layout.geojson');
const HARVEST = demoFile('harvest.csv');

/** The demo's document as it is when nobody has taken its layout in yet. */
function withoutStrips(): TrialDocument {
  return { ...demoTrial(), strips: [], blocks: [] };
}

async function codesOf(trial: TrialDocument, files: readonly ReturnType<typeof textFile>[]) {
  const { report } = await analyseTrial(trial, files);
  expect(v.safeParse(reportModelSchema, report).issues).toBeUndefined();
  return report.problems.map(({ code }) => code);
}

describe('from files and trial document to the report model', () => {
  it('is a function of both: the same twice, whatever the order of the files', async () => {
    const first = await analyseTrial(demoTrial(), [LAYOUT, HARVEST]);
    const second = await analyseTrial(demoTrial(), [HARVEST, LAYOUT]);
    expect({ ...second.report, trial: { ...second.report.trial, files: [] } }).toEqual({
      ...first.report,
      trial: { ...first.report.trial, files: [] },
    });
  });

  it('gives the same figures whether the layout was taken into the document or lies beside it', async () => {
    const beside = await analyseTrial(withoutStrips(), [LAYOUT, HARVEST]);
    const taken = await analyseTrial(beside.trial, [LAYOUT, HARVEST]);
    expect(taken.report.strips).toEqual(beside.report.strips);
    expect(taken.report.responses).toEqual(beside.report.responses);
  });

  it('carries the SHA-256 of each file (FIPS 180-4; Node as oracle) and every setting', async () => {
    const { report } = await analyseTrial(demoTrial(), [LAYOUT, HARVEST]);
    for (const file of [LAYOUT, HARVEST]) {
      const sha256 = createHash('sha256').update(wholeOf(file.bytes)).digest('hex');
      expect(report.trial.files).toContainEqual(expect.objectContaining({ name: file.name, sha256 }));
    }
    expect(report.trial.settings['harvest.endMarginM']).toBe(JSON.stringify(demoTrial().harvest.endMarginM));
    expect(report.madeBy).toMatch(/^stripverdict \d+\.\d+\.\d+$/);
  });

  it('counts every point once: kept and set aside add up to read', async () => {
    const { report, field } = await analyseTrial(demoTrial(), [LAYOUT, HARVEST]);
    const rows = new TextDecoder().decode(wholeOf(HARVEST.bytes)).trim().split('\n').length - 1;
    expect(field?.points?.reason).toHaveLength(rows);
    for (const strip of report.strips) {
      const setAside = Object.values(strip.pointsSetAside).reduce((sum, points) => sum + points, 0);
      expect(strip.pointsKept! + setAside).toBe(strip.pointsRead);
    }
  });

  it('tells progress in order and stops when asked', async () => {
    const stages: string[] = [];
    await analyseTrial(demoTrial(), [LAYOUT, HARVEST], { onProgress: ({ stage }) => stages.push(stage) });
    expect([...new Set(stages)]).toEqual(['reading', 'placing', 'analysing']);
    const stopped = await analyseTrial(demoTrial(), [LAYOUT, HARVEST], { isCancelled: () => true });
    expect(stopped.report.responses).toEqual([]);
    expect(stopped.report.problems.map(({ code }) => code)).toContain('harvestCancelled');
  });
});

describe('bad input leaves a named problem and a valid report', () => {
  it('no strips, no harvest, a missing file', async () => {
    expect(await codesOf({ ...withoutStrips(), layoutFile: null }, [HARVEST])).toContain('noLayout');
    expect(await codesOf({ ...demoTrial(), harvestFiles: [] }, [])).toContain('noHarvest');
    expect(await codesOf(demoTrial(), [LAYOUT])).toContain('fileMissing');
  });

  it('a treatment on no strip is named', async () => {
    const trial = demoTrial();
    const extra = {
      id: 'x',
      name: 'Never sprayed',
      isCheck: false,
      costPerHa: null,
      applicationCostPerHa: null,
    };
    const { report } = await analyseTrial({ ...trial, treatments: [...trial.treatments, extra] }, [
      LAYOUT,
      HARVEST,
    ]);
    const found = report.problems.find(({ code }) => code === 'treatmentOnNoStrip');
    expect(found?.message).toContain('Never sprayed');
    expect(report.responses[0]?.refusal).toBeNull();
  });

  it('latitude and longitude exchanged: says so', async () => {
    const [heading, ...rows] = new TextDecoder().decode(wholeOf(HARVEST.bytes)).trim().split('\n');
    const names = heading!.split(',');
    const swapped = names.map((name) =>
      /^lat/i.test(name) ? 'Longitude' : /^lon/i.test(name) ? 'Latitude' : name,
    );
    expect(swapped).not.toEqual(names);
    const file = textFile('harvest.csv', [swapped.join(','), ...rows].join('\n'));
    const { report } = await analyseTrial(demoTrial(), [LAYOUT, file]);
    expect(report.responses).toEqual([]);
    const text = report.problems.map(({ message, whatToDo }) => `${message} ${whatToDo}`).join(' ');
    expect(text).toMatch(/latitude/i);
  });
});

describe('files handed over', () => {
  it('are told apart by content, whatever they are called, and taken in the right order', async () => {
    const trial = textFile('a', JSON.stringify(demoTrial()));
    const taken = await takeFiles([{ ...HARVEST, name: 'c' }, { ...LAYOUT, name: 'b' }, trial]);
    expect(taken.commands.map(({ name }) => name)).toEqual(['openTrial', 'takeLayout', 'takeHarvestFile']);
    expect(taken.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('of another kind leave a problem and no edit', async () => {
    const taken = await takeFiles([
      { name: 'photo.jpg', bytes: new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16]) },
    ]);
    expect(taken.commands).toEqual([]);
    expect(taken.problems[0]).toMatchObject({ file: 'photo.jpg', severity: 'error' });
  });

  it('200 MB of another kind: one clear problem, without reading it all as text', async () => {
    const bytes = new Uint8Array(200_000_000);
    bytes.set([0x50, 0x4b, 3, 4]);
    expect((await takeFiles([{ name: 'backup.bin', bytes }])).problems).toHaveLength(1);
  });

  it('keep costs and the check that were entered before', async () => {
    const known = demoTrial();
    const outcome = await trialFromFiles({ ...known, strips: [], blocks: [] }, [LAYOUT]);
    expect(outcome.ok).toBe(true);
    if (outcome.ok) expect(outcome.value.treatments).toEqual(known.treatments);
  });
});

describe('weights of a scale beside the points of a monitor', () => {
  const strips = demoTrial().strips.map(({ id }) => id);
  const table = (rows: readonly (readonly [strip: string, kg: number])[]) =>
    textFile('scale.csv', ['strip,weight (kg)', ...rows.map((row) => row.join(','))].join('\n'));
  const weighedTrial = () => {
    const file = { path: 'scale.csv', kind: 'hand', columns: {}, yieldColumns: [] } as const;
    const taken = applyCommand(demoTrial(), {
      name: 'takeHarvestFile',
      file: { ...file, columns: {}, yieldColumns: [] },
    });
    if (!taken.ok) throw new Error(JSON.stringify(taken.problems));
    return taken.value;
  };
  const analysed = (scale: ReturnType<typeof textFile>) =>
    analyseTrial(weighedTrial(), [LAYOUT, HARVEST, scale]);
  const kgOf = (s: number) => 2000 + 37 * ((s * 7) % 11);

  it('set the strips’ yields, stand beside the monitor’s, and twice the weight is twice the yield', async () => {
    const once = (await analysed(table(strips.map((id, s) => [id, kgOf(s)])))).report;
    const twice = (await analysed(table(strips.map((id, s) => [id, 2 * kgOf(s)])))).report;
    expect(v.safeParse(reportModelSchema, once).issues).toBeUndefined();
    expect(once.weighed?.loads.map((load) => load.strips)).toEqual(strips.map((id) => [id]));
    once.weighed?.loads.forEach(({ scale, monitor, ratio }, s) => {
      expect(ratio).toBeCloseTo(monitor / scale, 12);
      expect(yieldOf(once, s)).toBeCloseTo(scale, 12);
      expect(yieldOf(twice, s)).toBeCloseTo(2 * scale, 10);
    });
    expect(once.trial.assumptions.some((line) => line.startsWith('scale.csv: weights of the scale'))).toBe(
      true,
    );
    expect(once.responses[0]?.cleanings).toBeNull();
  });

  it('of several strips stand in one cell, and rows that cannot be used are named', async () => {
    const [first, second] = strips;
    const { report } = await analysed(
      table([
        [`${first} + ${second}`, 4000],
        ['nowhere', 10],
      ]),
    );
    expect(report.weighed?.loads.map((load) => [load.strips, load.use])).toEqual([
      [[first, second], 'level'],
    ]);
    const codes = report.problems.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['handStripUnknown', 'loadGivesLevelAlone']));
  });
});

function yieldOf(report: ReportModel, s: number): number {
  return report.strips[s]!.values.find(({ response }) => response === 'yield')!.value!;
}
