import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { dbfFile, shpFile, UTM_32N_PRJ, WGS84_PRJ } from '../intake/made-files.ts';
import { reportOf, stripverdict } from './run-stripverdict.ts';

const EAST_M = 537_000;
const NORTH_M = 5_340_000;
const STRIPS = [0, 1, 2, 3];

/** Loose parts of two shapefiles in metres of the zone 32 north, as a folder holds them. */
function folderOfParts(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
  const write = (name: string, bytes: Uint8Array | string) => writeFileSync(join(folder, name), bytes);
  const strips = STRIPS.map((s) => {
    const [west, east] = [EAST_M + 12 * s, EAST_M + 12 * (s + 1)];
    const ring = [
      [west, NORTH_M],
      [west, NORTH_M + 200],
      [east, NORTH_M + 200],
      [east, NORTH_M],
      [west, NORTH_M],
    ] as const;
    return {
      rings: [ring] as const,
      attributes: { strip: s + 1, treatment: 'ABBA'[s]!, block: 1 + (s >> 1) },
    };
  });
  const points = STRIPS.flatMap((s) =>
    Array.from({ length: 90 }, (_, t) => ({
      point: [EAST_M + 12 * s + 6, NORTH_M + 10 + 2 * t] as const,
      attributes: { Yld_t_ha: 8 + 0.1 * s + 0.2 * Math.sin(7 * t + s) },
    })),
  );
  // What was sprayed: whole strips, but the second strip without its southern half.
  const sprayed = strips.map(({ rings, attributes: { treatment } }, s) => ({
    rings: [rings[0].map(([x, y]) => [x, s === 1 ? Math.max(y, NORTH_M + 100) : y] as const)],
    attributes: { product: treatment, rate_L_ha: 150 },
  }));
  for (const [name, records] of [
    ['strips', strips],
    ['points', points],
    ['sprayed', sprayed],
  ] as const) {
    write(`${name}.shp`, shpFile(records));
    write(`${name}.dbf`, dbfFile(records));
    write(`${name}.prj`, UTM_32N_PRJ);
    write(`${name}.cpg`, 'UTF-8');
  }
  return folder;
}

describe('loose parts of shapefiles on the command line', () => {
  const words = ['answer', '--layout', 'strips.shp', '--harvest', 'points.shp', '--json'];

  it('are found beside the .shp, for strips and for points', () => {
    const ran = stripverdict(words, folderOfParts());
    expect(ran.code).toBe(0);
    const { strips } = reportOf(ran);
    expect(strips.map(({ pointsRead }) => pointsRead)).toEqual([90, 90, 90, 90]);
  });

  it('areas named by --applied are what was put out, though they could pass for a layout', () => {
    const ran = stripverdict([...words, '--applied', 'sprayed.shp'], folderOfParts());
    expect(ran.code).toBe(0);
    const { strips, trial, problems } = reportOf(ran);
    expect(trial.files).toContainEqual(expect.objectContaining({ name: 'sprayed.shp', role: 'application' }));
    // Points at 10, 12, ... 100 m stand for ground of the southern half.
    expect(strips.map(({ pointsSetAside }) => pointsSetAside.appliedOtherwise ?? 0)).toEqual([0, 46, 0, 0]);
    expect(problems.map(({ code }) => code)).toContain('stretchesSkipped');
  });

  it('a .prj that says degrees of metres is named', () => {
    const folder = folderOfParts();
    writeFileSync(join(folder, 'points.prj'), WGS84_PRJ);
    const ran = stripverdict(words, folder);
    expect(ran.code).toBe(2);
    expect(reportOf(ran).problems.map(({ code }) => code)).toContain('notDegrees');
  });

  it('settings of one file are set by its place in the document', () => {
    const ran = stripverdict([...words, '--set', 'harvestFiles.0.calibrationFactor=2'], folderOfParts());
    const plain = stripverdict(words, folderOfParts());
    const yields = (given: typeof ran) =>
      reportOf(given).strips.map(({ values }) => values[0]?.value ?? Number.NaN);
    yields(ran).forEach((value, s) => {
      expect(value).toBeCloseTo(2 * yields(plain)[s]!, 9);
    });
  });
});
