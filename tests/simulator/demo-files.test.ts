import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type DemoFile, demoFiles } from '../../fixtures/demo/demo-files.ts';
import { harvestHand } from '../../src/harvest/harvest-hand.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { layoutFaults, placesOfStrips } from '../../src/harvest/layout-faults.ts';
import { readHand } from '../../src/intake/read-hand.ts';
import { readLayout } from '../../src/intake/read-layout.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { findCrop } from '../../src/trial/crops.ts';
import { openTrial } from '../../src/trial/open-trial.ts';
import type { Outcome } from '../../src/trial/problem.ts';

const FOLDER = new URL('../../fixtures/demo/', import.meta.url);
const written = (path: string) => readFileSync(new URL(path, FOLDER));
const bytes = (path: string) => new Uint8Array(written(path));

function opened<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const trialIn = (folder: string) => opened(openTrial(written(`${folder}/trial.json`).toString()));

describe('the demo', () => {
  it('is what its generator writes, byte for byte', () => {
    const files = demoFiles();
    expect(files.map(({ path }: DemoFile) => existsSync(new URL(path, FOLDER)))).not.toContain(false);
    for (const { path, text } of files) expect(written(path).toString() === text, path).toBe(true);
  });

  it('opens, reads and harvests without an error: strips and yield monitor', () => {
    const trial = trialIn('fungicide-strips');
    const layout = opened(
      readLayout(
        bytes('fungicide-strips/layout.geojson'),
        'layout.geojson',
        trial.layoutFile?.properties ?? { strip: null, treatment: null, block: null },
      ),
    );
    expect(layout.layout.strips.map(({ id, treatment, block }) => [id, treatment, block])).toEqual(
      trial.strips.map(({ id, treatment, block }) => [id, treatment, block]),
    );
    expect(layoutFaults(trial.strips)).toEqual([]);
    expect([...placesOfStrips(trial.strips).values()]).toEqual(trial.strips.map(({ place }) => place));
    const points = opened(
      readPoints(
        bytes('fungicide-strips/harvest.csv'),
        'harvest.csv',
        trial.harvestFiles[0] ?? null,
        findCrop(trial.crop),
      ),
    );
    const harvest = opened(harvestPoints(trial, [points]));
    expect(harvest.strips.filter(({ values }) => values.yield === null)).toEqual([]);
    expect(harvest.assumptions.map(({ code }) => code)).toEqual(['headerFromRecordedWidth']);
  });

  it('opens, reads and harvests without an error: pairs by hand', () => {
    const trial = trialIn('seed-dressing-pairs');
    const hand = opened(
      readHand(
        bytes('seed-dressing-pairs/weights.csv'),
        'weights.csv',
        trial.harvestFiles[0] ?? null,
        findCrop(trial.crop),
      ),
    );
    const outcome = harvestHand(trial, hand);
    expect(outcome.problems).toEqual([]);
    expect(opened(outcome).strips.every(({ subSamples }) => subSamples === 2)).toBe(true);
  });
});
