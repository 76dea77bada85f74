import { expect, it } from 'vitest';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { cleaningsOfTrial } from '../../src/pipeline/cleanings-of-trial.ts';
import { settingsUnder } from '../../src/pipeline/cleanings-tried.ts';
import { trialFromFiles } from '../../src/pipeline/trial-from-files.ts';
import { geographic } from '../harvest/field-of-strips.ts';
import { taken } from '../intake/as-bytes.ts';
import { textFile } from './demo-input.ts';

/** Main plots "deep" and "flat", sub-plots "few" and "many", in three blocks of four strips. */
const LEVELS = { A: ['deep', 'few'], B: ['deep', 'many'], C: ['flat', 'few'], D: ['flat', 'many'] } as const;
const ORDER = ['A', 'B', 'D', 'C', 'C', 'D', 'B', 'A', 'B', 'A', 'C', 'D'] as const;

const features = ORDER.map((treatment, s) => {
  const at = (east: number, north: number) => geographic(12 * s + east, north);
  const ring = [at(0, 0), at(12, 0), at(12, 200), at(0, 200), at(0, 0)];
  const properties = { strip: s + 1, treatment, block: 1 + Math.floor(s / 4) };
  return { type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [ring] } };
});
const rows = ORDER.flatMap((_, s) =>
  Array.from({ length: 95 }, (_, t) => {
    const [longitude, latitude] = geographic(12 * s + 6, 5 + 2 * t);
    const tPerHa = 8 + 0.3 * Math.sin(5 * s) + 0.1 * Math.sin(7 * t + 3 * s);
    return [2000 * s + t, longitude.toFixed(9), latitude.toFixed(9), tPerHa.toFixed(4), 9, 2].join(',');
  }),
);

it('a split plot is judged under every cleaning as in its report: main and sub levels, each by its own error', async () => {
  const files = [
    textFile('strips.geojson', JSON.stringify({ type: 'FeatureCollection', features })),
    textFile('y.csv', ['Time (s),Lon,Lat,Yield (t/ha),Width (m),Distance (m)', ...rows, ''].join('\n')),
  ];
  const plain = taken(await trialFromFiles(null, files));
  const treatments = plain.treatments.map((one) => ({
    ...one,
    factorLevels: [...LEVELS[one.name as keyof typeof LEVELS]] as [string, string],
  }));
  const inference = { ...plain.inference, factors: { first: 'tillage', second: 'seed', split: true } };
  const trial = { ...plain, treatments, inference };
  const { report } = await analyseTrial(trial, files);
  const { design, answers, cleanings } = report.responses.find(({ name }) => name === 'yield')!;
  expect(design).toBe('splitPlot');
  expect(cleanings!.judged).toBeGreaterThan(100);
  expect(cleanings!.comparisons.map(({ a, b }) => [a, b])).toEqual([
    ['flat', 'deep'],
    ['many', 'few'],
  ]);
  expect(report.problems.map(({ code }) => code)).not.toContain('cleaningsNotComparable');
  // Law: a cleaning as the trial's own settings gives the report of that trial.
  const grid = taken(await cleaningsOfTrial(trial, files, {}))!;
  for (const at of [0, 40, 100]) {
    const { cleaning, verdicts } = grid.results[at]!;
    const harvest = { ...trial.harvest, ...settingsUnder(cleaning, trial.harvest) };
    const own = await analyseTrial({ ...trial, harvest }, files);
    const said = own.report.responses.find(({ name }) => name === 'yield')!.answers;
    expect(verdicts!.map(({ difference }) => difference)).toEqual(said.map(({ difference }) => difference));
    verdicts!.forEach(({ estimate, lower }, k) => {
      expect(estimate).toBeCloseTo(said[k]!.estimate, 9);
      expect(lower).toBeCloseTo(said[k]!.interval.lower!, 9);
    });
  }
  expect(cleanings!.comparisons.map(({ difference }) => difference)).toEqual(
    answers.map((one) => one.difference),
  );
});
