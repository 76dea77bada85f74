import { describe, expect, test } from 'vitest';
import { readPoints } from '../../src/intake/read-points.ts';
import { readPointsSource } from '../../src/intake/read-source.ts';
import { findCrop } from '../../src/trial/crops.ts';
import type { HarvestFile } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';
import { dbfFile, shpFile, source } from './made-files.ts';

const points = (text: string, columns: HarvestFile['columns'] = {}) =>
  readPoints(asBytes(text), 'y.csv', { path: 'y.csv', kind: 'points', columns, yieldColumns: [] }, null);

/** A straight drive, a row a second. */
const rows = (count: number, cells: (second: number) => string) =>
  Array.from(
    { length: count },
    (_, second) => `${11.5 + second * 1e-5},48.1,${9 + (second % 7) / 8},${cells(second)}`,
  ).join('\n');

describe('letters beyond ASCII in a file that is read from its bytes', () => {
  test.each([
    ['a no-break space', '\u00A0'],
    ['a narrow one', '\u202F'],
    ['a typographic apostrophe', '’'],
  ])('%s between thousands, as by way of a table', (_, mark) => {
    const line = (y: string) => `11.5;48.1;${y};Jürgen\n`;
    const body = `Lon;Lat;Yield (kg/ha);Operator\n${line(`9${mark}125,5`).repeat(11_000)}`;
    const scanned = taken(points(body));
    const quoted = taken(points(`${body}${line(`"9${mark}125,5"`)}`));
    expect(asBytes(body).length).toBeGreaterThan(256 * 1024);
    expect(scanned.yieldKgPerHa?.[10_999]).toBe(9125.5);
    expect(scanned.operator?.names).toEqual(['Jürgen']);
    expect(quoted.yieldKgPerHa?.subarray(0, 11_000)).toEqual(scanned.yieldKgPerHa);
  });
});

describe('clocks that count in longer steps than the log', () => {
  const HEAD = 'Lon,Lat,Yield (t/ha),';
  const clock = (second: number) =>
    `10:${String(Math.floor(second / 60)).padStart(2, '0')}:${String(second % 60).padStart(2, '0')}`;
  const fine = taken(points(`${HEAD}Time\n${rows(300, clock)}`)).timeS;

  test.each([
    ['without seconds', 'Time', (second: number) => clock(second).slice(0, 5), 60],
    ['five rows a step', 'Time (s)', (second: number) => String(5 * Math.floor(second / 5)), 5],
  ])('%s: spread evenly, which brings an even log back, and said', (_, heading, cell, stepS) => {
    const outcome = points(`${HEAD}${heading}\n${rows(300, cell)}`);
    expect(taken(outcome).timeS).toEqual(fine);
    expect(problemOf(outcome, 'clockCoarse').details).toMatchObject({ of: 300, stepS });
  });

  test('a pause stays a pause, and a row that stands there twice is no step', () => {
    const paused = (second: number) => String(5 * Math.floor(second / 5) + (second < 100 ? 0 : 600));
    const { timeS } = taken(points(`${HEAD}Time (s)\n${rows(200, paused)}`));
    expect((timeS?.[100] ?? 0) - (timeS?.[99] ?? 0)).toBe(601);
    const twice = rows(100, String)
      .split('\n')
      .flatMap((row) => [row, row])
      .join('\n');
    const outcome = points(`${HEAD}Time (s)\n${twice}`);
    expect(codesOf(outcome)).not.toContain('clockCoarse');
    expect(taken(outcome).timeS?.[199]).toBe(99);
  });

  test('one time in all rows tells nothing', () => {
    const outcome = points(`${HEAD}Time\n${rows(20, () => '10:00:00')}`);
    expect(problemOf(outcome, 'clockStandsStill')).toMatchObject({ severity: 'warning', column: 'Time' });
    expect(taken(outcome).timeS).toBe(null);
  });

  test('days alone are no clock, but days', () => {
    const outcome = points(`${HEAD}Date\n${rows(20, (second) => `2024-09-0${1 + Math.floor(second / 10)}`)}`);
    expect(taken(outcome).timeS).toBe(null);
    expect(taken(outcome).day?.names).toEqual(['2024-09-01', '2024-09-02']);
  });

  test.each(['2024-09-01 12:00:00+02', '2024-09-01t10:00:00z', '2024-09-01 10:00:00 UTC'])('%s', (text) => {
    const outcome = points(`${HEAD}Time\n11.5,48.1,9,${text}\n11.6,48.1,9,2024-09-01T10:00:05Z\n`);
    expect([...(taken(outcome).timeS ?? [])]).toEqual([0, 5]);
  });

  test('days of a spreadsheet, 25569 being the first of January 1970', () => {
    const columns = { time: { heading: 'Time', unit: 'days' } };
    const text = `${HEAD}Time\n11.5,48.1,9,45536.5\n11.6,48.1,9,45536.5001\n`;
    const { timeS, startS } = taken(points(text, columns));
    expect(timeS?.[1]).toBeCloseTo(8.64, 4);
    expect(startS).toBe(Date.UTC(2024, 8, 1, 12) / 1000);
  });
});

describe('metres under the letters x and y', () => {
  const text = 'X,Y (m),Yield (t/ha)\n691607.86,5335852.96,9.1\n691617.86,5335862.96,9.2\n';

  test('the zone is asked for, and read as under easting and northing', () => {
    expect(codesOf(points(text))).toEqual(['askUtmZone', 'askUtmZone']);
    const zone = { longitude: { heading: 'X', unit: 'UTM 32N' } };
    const named = text.replace('X,Y (m)', 'Easting UTM 32N,Northing');
    expect(taken(points(text, zone)).longitude).toEqual(taken(points(named)).longitude);
    expect(taken(points(text, zone)).latitude).toEqual(taken(points(named)).latitude);
  });
});

describe('geographic systems other than WGS 84', () => {
  const geographic = (datum: string, spheroid: string, unit: string) =>
    `GEOGCS["Theirs",DATUM["${datum}",SPHEROID["S",${spheroid}]],PRIMEM["Greenwich",0],UNIT[${unit}]]`;
  const degree = '"Degree",0.0174532925199433';
  const read = (prj: string) => {
    const records = [0, 1].map((row) => ({
      point: [11.5 + row, 48.1] as const,
      attributes: { Yld_t_ha: 9 },
    }));
    const beside = { 'h.dbf': dbfFile(records), 'h.prj': asBytes(prj) };
    return readPointsSource(source('h.shp', shpFile(records), beside), null, null);
  };

  test('an old datum without its shift is said; a modern one, or one with its shift, is not', async () => {
    const old = await read(geographic('D_European_1950', '6378388,297', degree));
    expect(problemOf(old, 'datumNotKnown')).toMatchObject({
      severity: 'warning',
      details: { name: 'Theirs' },
    });
    const modern = await read(geographic('D_ETRS_1989', '6378137,298.257222101', degree));
    expect(codesOf(modern)).toEqual([]);
    const shifted = geographic('D', '6378388,297]', degree).replace(
      ']]]',
      '],TOWGS84[-87,-98,-121,0,0,0,0]]',
    );
    expect(codesOf(await read(shifted))).toEqual([]);
  });

  test('angles in grads are refused, not taken for degrees', async () => {
    const grads = await read(geographic('D_NTF', '6378249.2,293.466', '"Grad",0.01570796326794897'));
    expect(problemOf(grads, 'projectionNotRead').details.reason).toContain('degrees');
  });
});

test('bushels of a crop that nobody named are one question, not a column without values', () => {
  const text = 'Lon,Lat,Yield (bu/ac)\n11.5,48.1,160\n11.6,48.1,150\n';
  expect(codesOf(points(text))).toEqual(['bushelsNeedCrop']);
  expect(readPoints(asBytes(text), 'y.csv', null, findCrop('maize')).ok).toBe(true);
});
