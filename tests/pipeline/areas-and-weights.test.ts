import { describe, expect, it } from 'vitest';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import type { ExclusionArea } from '../../src/trial/exclusion-area.ts';
import type { HarvestFile, TrialDocument } from '../../src/trial/trial-document.ts';
import { demoFile, demoTrial, textFile } from './demo-input.ts';

const LAYOUT = demoFile('layout.geojson');
const HARVEST = demoFile('harvest.csv');
const { strips } = demoTrial();
const SCALE = textFile(
  'scale.csv',
  [
    'strip,weight (kg),moisture (%),length (m),width (m)',
    ...strips.map(({ id }, s) => `${id},${3000 + 10 * s},14,300,9`),
  ].join('\n'),
);
const WEIGHTS: HarvestFile = { path: 'scale.csv', kind: 'hand', columns: {}, yieldColumns: [] };

/** The first strip's own ground, as an area. */
const AREA: ExclusionArea = { id: '1', reason: 'hail', note: '', strip: null, polygon: strips[0]!.polygon! };

async function saidOf(harvestFiles: HarvestFile[], areas: ExclusionArea[]) {
  const start = demoTrial();
  const trial: TrialDocument = {
    ...start,
    harvestFiles: harvestFiles.map((file) => file),
    harvest: { ...start.harvest, exclusions: areas },
  };
  const { report } = await analyseTrial(trial, [LAYOUT, HARVEST, SCALE]);
  return report.problems.filter(({ code }) => code === 'exclusionsNotInWeights');
}

describe('areas left out, and weights of whole strips', () => {
  const points = demoTrial().harvestFiles;

  it('are said not to touch weights, by hand and of a scale beside a monitor', async () => {
    for (const files of [[WEIGHTS], [...points, WEIGHTS]]) {
      const [said, ...more] = await saidOf(files, [AREA, { ...AREA, id: '2' }]);
      expect(said).toMatchObject({ severity: 'warning', file: null });
      expect(said?.message).toContain('2');
      expect(more).toEqual([]);
    }
  });

  it('nothing is said without areas, nor where no strip was weighed', async () => {
    expect(await saidOf([WEIGHTS], [])).toEqual([]);
    expect(await saidOf([...points], [AREA])).toEqual([]);
  });
});

it('a table of protein beside the monitor adds a response, and leaves yields to the monitor', async () => {
  const protein = textFile(
    'protein.csv',
    ['strip,protein (%)', ...strips.map(({ id }, s) => `${id},${11 + ((7 * s) % 13) / 10}`)].join('\n'),
  );
  const points = demoTrial().harvestFiles;
  const alone = await analyseTrial(demoTrial(), [LAYOUT, HARVEST]);
  const harvestFiles = [...points, { ...WEIGHTS, path: 'protein.csv' }];
  const both = await analyseTrial({ ...demoTrial(), harvestFiles }, [LAYOUT, HARVEST, protein]);
  const [before, now] = [alone.report.responses, both.report.responses];
  expect(now.map(({ name }) => name)).toEqual([...before.map(({ name }) => name), 'protein (%)']);
  expect(now[0]!.anova).toEqual(before[0]!.anova);
  expect(now.at(-1)).toMatchObject({ refusal: null, unit: '%' });
});
