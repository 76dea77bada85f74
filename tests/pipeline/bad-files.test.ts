import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import type { ReportModel } from '../../src/findings/report-model.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import type { InputFile } from '../../src/pipeline/input-file.ts';
import { trialFromFiles } from '../../src/pipeline/trial-from-files.ts';
import type { HarvestFile, TrialDocument } from '../../src/trial/trial-document.ts';
import { asBytes, taken } from '../intake/as-bytes.ts';
import { dbfFile, shpFile, UTM_32N_PRJ } from '../intake/made-files.ts';
import { textFile } from './demo-input.ts';

/** Faults of whole files, on the way from files to report: each is named, and the rest is used. */
const UTM_32 = '+proj=utm +zone=32 +datum=WGS84';
const EAST_M = 537_000;
const NORTH_M = 5_340_000;
const WIDTH_M = 12;

/** Two treatments in three blocks; in metres of the zone 32 north, turned to degrees by proj4. */
function layout(): InputFile {
  const corner = (east: number, north: number) => proj4(UTM_32, 'WGS84', [EAST_M + east, NORTH_M + north]);
  const features = [0, 1, 2, 3, 4, 5].map((s) => ({
    type: 'Feature',
    properties: { strip: s + 1, treatment: [0, 3, 4].includes(s) ? 'A' : 'B', block: 1 + (s >> 1) },
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          corner(s * WIDTH_M, 0),
          corner((s + 1) * WIDTH_M, 0),
          corner((s + 1) * WIDTH_M, 200),
          corner(s * WIDTH_M, 200),
          corner(s * WIDTH_M, 0),
        ],
      ],
    },
  }));
  return textFile('strips.geojson', JSON.stringify({ type: 'FeatureCollection', features }));
}

const POINTS = [0, 1, 2, 3, 4, 5].flatMap((s) =>
  Array.from({ length: 90 }, (_, t) => ({
    east: EAST_M + (s + 0.5) * WIDTH_M,
    north: NORTH_M + 10 + 2 * t,
    yieldTPerHa: 8 + 0.1 * s + 0.2 * Math.sin(7 * t + s),
  })),
);
const csv = (headings: string) =>
  [
    headings,
    ...POINTS.map((p) => `${p.east.toFixed(2)},${p.north.toFixed(2)},${p.yieldTPerHa.toFixed(4)}`),
    '',
  ].join('\n');

async function reportOf(
  files: readonly InputFile[],
  columns: HarvestFile['columns'] = {},
): Promise<ReportModel> {
  const trial = taken(await trialFromFiles(null, files));
  const harvestFiles = trial.harvestFiles.map((file) => ({ ...file, columns }));
  return (await analyseTrial({ ...trial, harvestFiles } as TrialDocument, files)).report;
}

/** In t/ha. */
const yieldsOf = ({ strips }: ReportModel) =>
  strips.map(({ values }) => values.find(({ response }) => response === 'yield')?.value ?? Number.NaN);

describe('points in metres of a map grid', () => {
  const inZone = (unit: string) => ({ longitude: { heading: 'Easting', unit } });

  it('lie in their strips in the zone that the user chose, as they do from degrees', async () => {
    const grid = await reportOf(
      [layout(), textFile('y.csv', csv('Easting,Northing,Yield (t/ha)'))],
      inZone('UTM 32N'),
    );
    const degrees = POINTS.map((p) => {
      const [longitude, latitude] = proj4(UTM_32, 'WGS84', [p.east, p.north]) as [number, number];
      return `${longitude.toFixed(9)},${latitude.toFixed(9)},${p.yieldTPerHa.toFixed(4)}`;
    });
    const same = await reportOf([
      layout(),
      textFile('y.csv', ['Lon,Lat,Yield (t/ha)', ...degrees, ''].join('\n')),
    ]);
    yieldsOf(grid).forEach((value, s) => {
      expect(value).toBeCloseTo(yieldsOf(same)[s]!, 6);
    });
  });

  it('in another zone than the strips: said how many kilometres apart they lie', async () => {
    const report = await reportOf(
      [layout(), textFile('y.csv', csv('Easting,Northing,Yield (t/ha)'))],
      inZone('UTM 33N'),
    );
    const far = report.problems.find(({ code }) => code === 'pointsFarFromStrips');
    // Six degrees of longitude along the parallel, on the mean sphere: a check on the size alone.
    const latitude = proj4(UTM_32, 'WGS84', [EAST_M, NORTH_M])[1]! * (Math.PI / 180);
    const expectedKm = 6 * (Math.PI / 180) * 6371.0088 * Math.cos(latitude);
    const saidKm = Number(/([\d.]+) km/.exec(far?.message ?? '')?.[1]);
    expect(Math.abs(saidKm / expectedKm - 1)).toBeLessThan(0.01);
    expect(report.responses).toEqual([]);
  });
});

describe('a shapefile of points in loose parts', () => {
  const records = POINTS.map(({ east, north, yieldTPerHa }) => ({
    point: [east, north] as const,
    attributes: { Yld_t_ha: yieldTPerHa, Fahrer_ä: 'Jäger' },
  }));
  const latin = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const parts = (without: string) =>
    [
      { name: 'y.shp', bytes: shpFile(records) },
      { name: 'y.dbf', bytes: dbfFile(records, latin) },
      { name: 'y.prj', bytes: asBytes(UTM_32N_PRJ) },
      { name: 'y.cpg', bytes: asBytes('ISO-8859-1') },
    ].filter(({ name }) => !name.endsWith(without || 'none'));

  it('is one file: positions by its .prj, letters by its .cpg', async () => {
    const files = [layout(), ...parts('')];
    const report = await reportOf(files);
    expect(yieldsOf(report).every((value) => value > 7 && value < 10)).toBe(true);
    const trial = taken(await trialFromFiles(null, files));
    expect(trial.harvestFiles.map(({ path }) => path)).toEqual(['y.shp']);
    const { recognitions } = await analyseTrial(trial, files);
    expect(recognitions[0]?.recognition?.headings).toContain('Fahrer_ä');
  });

  it.each([
    ['.dbf', 'shapefileWithoutDbf'],
    ['.prj', 'projectionMissing'],
  ])('without its %s: %s', async (part, code) => {
    const report = await reportOf([layout(), ...parts(part)]);
    expect(report.problems.map((one) => one.code)).toContain(code);
  });
});

describe('faults of a log', () => {
  it('cut off in its last line: the rest is used, and said', async () => {
    const whole = csv('Easting (UTM 32N),Northing (UTM 32N),Yield (t/ha)').trimEnd();
    const cut = whole.slice(0, whole.lastIndexOf(','));
    const report = await reportOf([layout(), textFile('y.csv', cut)]);
    expect(report.problems.map((one) => one.code)).toContain('lastLineCutOff');
    expect(report.strips.reduce((sum, strip) => sum + (strip.pointsRead ?? 0), 0)).toBe(POINTS.length - 1);
  });

  it('a volume in one file and a mass in another: asked, until a bushel is said', async () => {
    const headings = 'Easting (UTM 32N),Northing (UTM 32N)';
    const files = [
      layout(),
      textFile('a.csv', csv(`${headings},Yield (t/ha)`)),
      textFile('b.csv', csv(`${headings},Yield (bu/ac)`)),
    ];
    const trial = { ...taken(await trialFromFiles(null, files)), crop: 'wheat' };
    const codes = async (asked: TrialDocument) =>
      (await analyseTrial(asked, files)).report.problems.map(({ code }) => code);
    expect(await codes(trial)).toContain('volumeBesideMass');
    expect(await codes({ ...trial, crop: null })).toContain('bushelsNeedCrop');
    const harvestFiles = trial.harvestFiles.map((file) =>
      file.path === 'b.csv' ? { ...file, kgPerBushel: 27 } : file,
    );
    expect(await codes({ ...trial, harvestFiles })).not.toContain('volumeBesideMass');
  });
});
