import { expect, it } from 'vitest';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
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

it('a split plot says that cleanings were not compared, and does not pass over it', async () => {
  const files = [
    textFile('strips.geojson', JSON.stringify({ type: 'FeatureCollection', features })),
    textFile('y.csv', ['Time (s),Lon,Lat,Yield (t/ha),Width (m),Distance (m)', ...rows, ''].join('\n')),
  ];
  const plain = taken(await trialFromFiles(null, files));
  const treatments = plain.treatments.map((one) => ({
    ...one,
    factorLevels: [...LEVELS[one.name as keyof typeof LEVELS]] as [string, string],
  }));
  const factors = { first: 'tillage', second: 'seed', split: true };
  const { report } = await analyseTrial(
    { ...plain, treatments, inference: { ...plain.inference, factors } },
    files,
  );
  const response = report.responses.find(({ name }) => name === 'yield')!;
  expect(response.design).toBe('splitPlot');
  expect(response.answers.length).toBeGreaterThan(0);
  expect(response.cleanings).toBe(null);
  expect(report.problems.map(({ code }) => code)).toContain('cleaningsNotComparable');
  const crossed = {
    ...plain,
    treatments,
    inference: { ...plain.inference, factors: { ...factors, split: false } },
  };
  const plainReport = (await analyseTrial(crossed, files)).report;
  expect(plainReport.responses.find(({ name }) => name === 'yield')!.cleanings).not.toBe(null);
});
