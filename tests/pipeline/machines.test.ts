import { describe, expect, it } from 'vitest';
import type { ReportModel } from '../../src/findings/report-model.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { trialFromFiles } from '../../src/pipeline/trial-from-files.ts';
import { trialText } from '../../src/trial/open-trial.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { geographic } from '../harvest/field-of-strips.ts';
import { taken } from '../intake/as-bytes.ts';
import { textFile } from './demo-input.ts';

/** From a column of machines to the model and to every cleaning. Strips of 12 m; A and B in six blocks. */
const STRIPS = Array.from({ length: 12 }, (_, s) => ({
  treatment: (s + (s >> 1)) % 2 === 0 ? 'A' : 'B',
  machine: ((s >> 1) + (s % 2) + (s >> 3)) % 2 === 0 ? 'old' : 'new',
}));
const features = STRIPS.map(({ treatment }, s) => {
  const at = (east: number, north: number) => geographic(12 * s + east, north);
  const ring = [at(0, 0), at(12, 0), at(12, 200), at(0, 200), at(0, 0)];
  return {
    type: 'Feature',
    properties: { strip: s + 1, treatment, block: 1 + (s >> 1) },
    geometry: { type: 'Polygon', coordinates: [ring] },
  };
});
const rows = STRIPS.flatMap(({ treatment, machine }, s) =>
  Array.from({ length: 95 }, (_, t) => {
    const [longitude, latitude] = geographic(12 * s + 6, 5 + 2 * t);
    const tPerHa =
      8 + (treatment === 'B' ? 0.2 : 0) + (machine === 'old' ? 0.6 : 0) + 0.1 * Math.sin(7 * t + 3 * s);
    return [2000 * s + t, longitude.toFixed(9), latitude.toFixed(9), tPerHa.toFixed(4), 9, 2, machine].join(
      ',',
    );
  }),
);
const FILES = [
  textFile('strips.geojson', JSON.stringify({ type: 'FeatureCollection', features })),
  textFile('y.csv', ['Time (s),Lon,Lat,Yield (t/ha),Width (m),Distance (m),Machine', ...rows, ''].join('\n')),
];

async function reportWith(machineTerm: boolean | null): Promise<ReportModel> {
  const trial = taken(await trialFromFiles(null, FILES));
  const asked: TrialDocument = { ...trial, inference: { ...trial.inference, machineTerm } };
  // As from the file it is kept in.
  return (await analyseTrial(JSON.parse(trialText(asked)) as TrialDocument, FILES)).report;
}
const yieldOf = ({ responses }: ReportModel) => responses.find(({ name }) => name === 'yield')!;

describe('a machine that a column names', () => {
  it('is offered, and as a term takes its difference out of the error', async () => {
    const [plain, asked] = [await reportWith(null), await reportWith(true)];
    expect(plain.problems.map(({ code }) => code)).toContain('machineCanBeTerm');
    expect(asked.problems.map(({ code }) => code)).not.toContain('machineCanBeTerm');
    const row = (report: ReportModel, source: string) =>
      yieldOf(report).anova.find((one) => one.source === source);
    expect(row(plain, 'machine')).toBe(undefined);
    expect(row(asked, 'machine')!.df).toBe(1);
    expect(row(asked, 'error')!.ms!).toBeLessThan(row(plain, 'error')!.ms! / 20);
    expect(asked.trial.settings['inference.machineTerm']).toBe('true');
  });

  it('is a term under every cleaning too', async () => {
    const { cleanings, answers } = yieldOf(await reportWith(true));
    const [answer] = answers;
    const under = cleanings!.comparisons.find(({ a, b }) => a === answer!.a && b === answer!.b)!;
    expect(cleanings!.judged).toBeGreaterThan(100);
    expect([under.difference, under.money]).toEqual([answer!.difference, answer!.money]);
    expect(under.least).toBeLessThanOrEqual(answer!.estimate + 1e-9);
    expect(under.most).toBeGreaterThanOrEqual(answer!.estimate - 1e-9);
    // The machines differ by 0.6 and the treatments by 0.2; without the term no cleaning would find 0.2 that nearly.
    expect(under.most - under.least).toBeLessThan(0.05);
  });
});
