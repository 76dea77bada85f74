import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { runAnswer } from '../../src/cli/answer-command.ts';
import type { ReportModel } from '../../src/findings/report-model.ts';

/** Strips of some 6 m by 100 m on the equator, where a degree is as long east as north. */
function layout(treatments: readonly (string | null)[]): string {
  const features = treatments.map((treatment, s) => {
    const [west, east] = [s * 6e-5, (s + 1) * 6e-5];
    const ring = [
      [west, 0],
      [east, 0],
      [east, 9e-4],
      [west, 9e-4],
      [west, 0],
    ];
    const geometry = { type: 'Polygon', coordinates: [ring] };
    return { type: 'Feature', properties: { strip: `S${s}`, treatment, block: 1 + (s >> 1) }, geometry };
  });
  return JSON.stringify({ type: 'FeatureCollection', features });
}

const POINTS = [0, 1, 2, 3].flatMap((s) =>
  Array.from(
    { length: 60 },
    (_, t) => `${(s + 0.5) * 6e-5},${1e-4 + t * 1e-5},${8 + 0.1 * ((7 * t + s) % 5)}`,
  ),
);
const HARVEST = `Lon,Lat,Yield (t/ha)\n${POINTS.join('\n')}\n`;

/** The report that the command prints, without a process of its own. */
async function report(files: Readonly<Record<string, string>>, words: readonly string[]) {
  const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  vi.stubEnv('INIT_CWD', folder);
  let printed = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  await runAnswer([...words, '--json']);
  vi.restoreAllMocks();
  return JSON.parse(printed) as ReportModel;
}

const codes = ({ problems }: ReportModel) => problems.map(({ code }) => code);

afterEach(() => vi.unstubAllEnvs());

describe('what is said of files while they are taken in', () => {
  it('stands in the report, before the rest: a strip without treatment, names alike', async () => {
    const files = { 'l.geojson': layout(['A', 'B', 'a', 'B', null]), 'h.csv': HARVEST };
    const said = await report(files, ['--layout', 'l.geojson', '--harvest', 'h.csv']);
    expect(codes(said).slice(0, 2).sort()).toEqual(['featureWithoutTreatment', 'levelsAlike']);
    expect(said.responses).toHaveLength(1);
  });

  it('a layout that is none is named, not missed', async () => {
    const files = { 'l.csv': 'Treatment,Colour,Depth\nA,1,2\n', 'h.csv': HARVEST };
    const said = await report(files, ['--layout', 'l.csv', '--harvest', 'h.csv']);
    expect(said.problems).toMatchObject([{ code: 'notALayout', file: 'l.csv', severity: 'error' }]);
  });

  it('of two layouts none is taken for the other', async () => {
    const files = { 'l.geojson': layout(['A', 'B']), 'm.geojson': layout(['C', 'D']), 'h.csv': HARVEST };
    const said = await report(files, [
      '--layout',
      'l.geojson',
      '--harvest',
      'h.csv',
      '--harvest',
      'm.geojson',
    ]);
    expect(codes(said)).toEqual(['severalLayouts']);
    expect(said.problems[0]?.message).toContain('l.geojson and m.geojson');
  });

  it('a file that was handed over twice under two names counts its points twice, and that is said', async () => {
    const files = { 'l.geojson': layout(['A', 'B', 'B', 'A']), 'h.csv': HARVEST, 'copy.csv': HARVEST };
    const words = ['--layout', 'l.geojson', '--harvest', 'h.csv', '--harvest', 'copy.csv'];
    const said = await report(files, words);
    expect(said.problems.find(({ code }) => code === 'fileTwice')?.message).toContain('h.csv and copy.csv');
  });
});
