import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readPoints } from '../../src/intake/read-points.ts';
import { findCrop } from '../../src/trial/crops.ts';
import type { HarvestFile } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken, utf16 } from './as-bytes.ts';

const MAIZE = findCrop('maize');
const HEADINGS = ['Lon', 'Lat', 'Yield (t/ha)', 'Moisture (%)', 'Speed (km/h)', 'Width (m)', 'Time'];
const ROWS = [
  ['11.50001', '48.10001', '9.125', '15.5', '5.4', '6.1', '2024-09-01T10:00:00Z'],
  ['11.50002', '48.10002', '9.25', '15.6', '5.5', '6.1', '2024-09-01T10:00:01Z'],
  ['11.50003', '48.10003', '8.75', '15.75', '5.6', '6.1', '2024-09-01T10:00:02.5Z'],
];

interface Writing {
  readonly separator?: string;
  readonly end?: string;
  readonly mark?: '.' | ',';
  readonly bom?: string;
  readonly order?: readonly number[];
  readonly quote?: boolean;
}

function written(rows: readonly (readonly string[])[], how: Writing = {}): string {
  const {
    separator = ',',
    end = '\n',
    mark = '.',
    bom = '',
    order = HEADINGS.map((_, i) => i),
    quote = false,
  } = how;
  const line = (cells: readonly string[]) =>
    order
      .map((index) => cells[index] ?? '')
      .map((cell) => (/^-?\d+\.\d+$/.test(cell) ? cell.replace('.', mark) : cell))
      .map((cell) => (quote || cell.includes(separator) ? `"${cell}"` : cell))
      .join(separator);
  return bom + [HEADINGS, ...rows].map(line).join(end) + end;
}

const read = (text: string, harvestFile: HarvestFile | null = null, crop = MAIZE) =>
  readPoints(asBytes(text), 'y.csv', harvestFile, crop);

function withCell(row: number, column: number, cell: string): string[][] {
  return ROWS.map((cells, r) => cells.map((old, c) => (r === row && c === column ? cell : old)));
}

describe('readPoints', () => {
  test('takes each column to SI', () => {
    const points = taken(read(written(ROWS)));
    expect(points.count).toBe(3);
    expect([...(points.yieldKgPerHa ?? [])]).toEqual([9125, 9250, 8750]);
    expect([...(points.timeS ?? [])]).toEqual([0, 1, 2.5]);
    expect(points.speedMPerS?.[0]).toBeCloseTo(1.5, 14);
    expect(points.unreadableRows).toBe(0);
    expect(points.yieldColumn).toEqual({
      heading: 'Yield (t/ha)',
      moistureBasis: null,
      atMoisturePercent: null,
      lagAppliedS: null,
      alreadyFiltered: null,
      loggedPosition: null,
    });
  });

  test('column order, separator, decimal mark, encoding, line ends and quotes change nothing (law)', () => {
    const { recognition: _, ...plain } = taken(read(written(ROWS)));
    const how = fc.record({
      separator: fc.constantFrom(',', ';', '\t'),
      end: fc.constantFrom('\n', '\r\n'),
      mark: fc.constantFrom('.' as const, ',' as const),
      bom: fc.constantFrom('', '\uFEFF'),
      order: fc.shuffledSubarray(
        HEADINGS.map((_, i) => i),
        { minLength: HEADINGS.length },
      ),
      quote: fc.boolean(),
    });
    fc.assert(
      fc.property(how, fc.constantFrom('utf-8', 'le', 'be'), (writing, encoding) => {
        const text = written(ROWS, writing);
        const bytes =
          encoding === 'utf-8' ? asBytes(text) : utf16(text.replace('\uFEFF', ''), encoding as 'le');
        const { recognition: __, ...same } = taken(readPoints(bytes, 'y.csv', null, MAIZE));
        expect(same).toEqual(plain);
      }),
      { numRuns: 80, seed: 5 },
    );
  });

  test('bushels become mass by the crop, and are refused without one', () => {
    const text = 'lon,lat,Yield (bu/ac)\n-93.1,42.1,100\n';
    // 100 bu/ac of maize = 6276.77 kg/ha: 56 lb of 0.45359237 kg on 0.40468564224 ha.
    expect(taken(read(text)).yieldKgPerHa?.[0]).toBeCloseTo((100 * 56 * 0.45359237) / 0.40468564224, 8);
    expect(problemOf(read(text, null, null), 'bushelsNeedCrop').column).toBe('Yield (bu/ac)');
  });

  test('answers about the yield column come from the harvest file by heading', () => {
    const answered = {
      ...taken(read(written(ROWS))).yieldColumn,
      moistureBasis: 'wet' as const,
      lagAppliedS: 12,
    };
    const file: HarvestFile = { path: 'y.csv', kind: 'points', columns: {}, yieldColumns: [answered] };
    expect(taken(read(written(ROWS), file)).yieldColumn).toEqual(answered);
    const other = { ...file, yieldColumns: [{ ...answered, heading: 'Another' }] };
    expect(taken(read(written(ROWS), other)).yieldColumn.moistureBasis).toBe(null);
  });

  test('text in a number column makes the point unreadable, and is named', () => {
    const outcome = read(written(withCell(1, 2, 'n/a')));
    expect(problemOf(outcome, 'textInNumberColumn')).toMatchObject({
      severity: 'warning',
      row: 3,
      column: 'Yield (t/ha)',
      details: { text: 'n/a', count: 1 },
    });
    expect(taken(outcome).unreadableRows).toBe(1);
    expect([...(taken(outcome).yieldKgPerHa ?? [])]).toEqual([9125, Number.NaN, 8750]);
  });

  test('blank cells are counted', () => {
    expect(problemOf(read(written(withCell(2, 3, ''))), 'blankCells')).toMatchObject({
      row: 4,
      details: { count: 1, of: 3 },
    });
  });

  test.each([
    ['latitude beyond 90', 1, '98.1', 'latitudeOutOfRange'],
    ['longitude beyond 180', 0, '-200.5', 'latitudeOutOfRange'],
    ['moisture of 0', 3, '0.0', 'moistureImpossible'],
    ['moisture of 100', 3, '100.0', 'moistureImpossible'],
    ['moisture below 0', 3, '-1.5', 'moistureImpossible'],
    ['time that is none', 6, 'noon', 'timeNotRead'],
  ])('warns of a %s with its row and goes on', (_, column, cell, code) => {
    const outcome = read(written(withCell(1, column, cell)));
    expect(outcome.ok).toBe(true);
    expect(problemOf(outcome, code)).toMatchObject({ row: 3, severity: 'warning' });
  });

  test('a position of 0, 0 is no position', () => {
    const rows = ROWS.map((cells, r) => (r === 2 ? ['0.0', '0.0', ...cells.slice(2)] : cells));
    const outcome = read(written(rows));
    expect(problemOf(outcome, 'positionZero')).toMatchObject({ row: 4, details: { count: 1 } });
    expect(taken(outcome).longitude[2]).toBeNaN();
  });

  test.each([
    ['swapped', 'Lat,Lon,Yield (t/ha)\n-93.5,42.1,9\n-93.6,42.2,9\n', 'latitudeLongitudeSwapped'],
    ['metres', 'Lat,Lon,Yield (t/ha)\n5334221.5,684321.5,9\n5334222.5,684321.5,9\n', 'notDegrees'],
    ['no positions', 'Yield (t/ha),Moisture (%)\n9,15\n', 'noPositionColumns'],
    ['no yield', 'Lat,Lon,Moisture (%)\n42.1,-93.1,15\n', 'noYieldColumn'],
    ['no readable position', 'Lat,Lon,Yield (t/ha)\na,b,9\n', 'noReadablePoints'],
    ['no readable yield', 'Lat,Lon,Yield (t/ha)\n42.1,-93.1,x\n', 'noReadablePoints'],
    ['moisture as a share', 'Lat,Lon,Yield (t/ha),Moisture\n42.1,-93.1,9,0.15\n', 'moistureLooksLikeShare'],
    ['unproven decimal marks', 'Lat\tLon\tYield (kg/ha)\n42\t-93\t9,125\n', 'ambiguousNumber'],
  ])('refuses %s', (_, text, code) => {
    const outcome = read(text);
    expect(outcome.ok).toBe(false);
    expect(codesOf(outcome)).toContain(code);
  });

  test('a share is read as one when the user says so', () => {
    const columns = { moisture: { heading: 'Moisture', unit: 'share' } };
    const file: HarvestFile = { path: 'y.csv', kind: 'points', columns, yieldColumns: [] };
    const outcome = read('Lat,Lon,Yield (t/ha),Moisture\n42.1,-93.1,9,0.15\n', file);
    expect(taken(outcome).moisturePercent?.[0]).toBe(15);
  });

  test('a row with too many cells is set aside, since nobody can tell which value belongs where', () => {
    const outcome = read('Lat,Lon,Yield (t/ha)\n42.1,-93.1,9\n42.2,-93.2,9,5\n');
    expect(problemOf(outcome, 'rowTooLong').row).toBe(3);
    expect(taken(outcome).unreadableRows).toBe(1);
  });

  test('header states are read in words and numbers', () => {
    const outcome = read(
      'Lat,Lon,Yield (t/ha),Header\n42.1,-93.1,9,down\n42.1,-93.1,9,0\n42.1,-93.1,9,maybe\n42.1,-93.1,9,\n',
    );
    expect([...(taken(outcome).headerDown ?? [])]).toEqual([1, 0, 255, 255]);
    expect(problemOf(outcome, 'headerStateNotRead')).toMatchObject({
      row: 4,
      details: { text: 'maybe', count: 1 },
    });
  });

  test.each([
    ['clock over midnight', ['23:59:59', '00:00:01'], 2],
    ['zones', ['2024-09-01T10:00:00+02:00', '2024-09-01 08:00:05Z'], 5],
    ['day first', ['31.08.2024 23:59:58', '01.09.2024 00:00:00'], 2],
    ['month first', ['8/31/2024 11:59:58 PM', '9/1/2024 12:00:00 AM'], 2],
  ])('times: %s', (_, times, seconds) => {
    const text = `Lat,Lon,Yield (t/ha),Time\n${times.map((time) => `42.1,-93.1,9,${time}`).join('\n')}\n`;
    expect(taken(read(text)).timeS?.[1]).toBe(seconds);
  });

  test('dates of which day and month cannot be told apart are not read', () => {
    const text = 'Lat,Lon,Yield (t/ha),Time\n42.1,-93.1,9,01/02/2024 10:00\n42.1,-93.1,9,02/02/2024 10:00\n';
    expect(taken(read(text)).timeS).toBe(null);
    expect(codesOf(read(text))).toContain('timeNotRead');
  });
});

describe('a large plain file, read from its bytes', () => {
  const many = Array.from({ length: 8000 }, (_, i) => {
    const cells = [...(ROWS[i % 3] ?? [])];
    if (i === 4000) cells[2] = 'oops';
    if (i === 4001) cells[3] = '';
    if (i === 4002) cells[2] = '1,234.5';
    if (i === 4003) return cells.slice(0, 3);
    if (i === 4004) return [...cells, 'more'];
    if (i === 4005) cells[2] = '9.1234567890123456789e0';
    if (i === 4006) cells[2] = ' +8.5 ';
    return cells;
  });

  function plainText(end: string, cutOff: string, quote: boolean): string {
    const line = (cells: readonly string[]) =>
      cells.map((cell) => (quote || cell.includes(';') ? `"${cell}"` : cell)).join(';');
    return `\n${[HEADINGS, ...many].map(line).join(end)}${end}${end}${cutOff}`;
  }

  test.each([
    ['\n', ''],
    ['\r\n', ''],
    ['\n', '11.5;48.1'],
  ])(
    'comes to the same as by way of a table (law: quotes change nothing), ends %j, cut off %j',
    (end, cutOff) => {
      const scanned = read(plainText(end, cutOff, false));
      const tabled = read(plainText(end, cutOff === '' ? '' : '"11.5";"48.1"', true));
      expect(asBytes(plainText(end, cutOff, false)).length).toBeGreaterThan(256 * 1024);
      expect(taken(scanned)).toEqual(taken(tabled));
      const sorted = (outcome: typeof scanned) => outcome.problems.map((p) => JSON.stringify(p)).sort();
      expect(sorted(scanned)).toEqual(sorted(tabled));
      expect(codesOf(scanned)).toContain('textInNumberColumn');
    },
  );

  test('a last line that was cut off is left out and said, as by way of a table', () => {
    const whole = Array.from({ length: 8000 }, (_, i) => ROWS[i % 3] ?? []);
    const textOf = (quote: string) =>
      `${[HEADINGS, ...whole].map((cells) => cells.map((cell) => `${quote}${cell}${quote}`).join(';')).join('\n')}\n11.5;48.1`;
    const scanned = read(textOf(''));
    expect(asBytes(textOf('')).length).toBeGreaterThan(256 * 1024);
    expect(codesOf(scanned)).toContain('lastLineCutOff');
    expect(taken(scanned).count).toBe(whole.length);
    expect(taken(scanned)).toEqual(taken(read(textOf('"'))));
  });

  test('a column that the user gives two roles is read for each of them (law: quotes change nothing)', () => {
    const columns = {
      speed: { heading: 'Speed (km/h)', unit: 'km/h' },
      distance: { heading: 'Speed (km/h)', unit: 'ft' },
      machine: { heading: 'Speed (km/h)', unit: null },
    };
    const asked: HarvestFile = { path: 'y.csv', kind: 'points', columns, yieldColumns: [] };
    const scanned = taken(read(plainText('\n', '', false), asked));
    expect(scanned).toEqual(taken(read(plainText('\n', '', true), asked)));
    expect(scanned.speedMPerS![0]! * 3.6).toBeCloseTo(scanned.distanceM![0]! / 0.3048, 12);
  });

  test('every number is the double that its text denotes (law: Number of ECMAScript)', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 });
    const yields = fc.sample(
      fc.oneof(
        number.map(String),
        number.map((x) => x.toFixed(6)),
      ),
      { numRuns: 12_000, seed: 8 },
    );
    const text = `Lat,Lon,Yield (kg/ha)\n${yields.map((y) => `42.123456,-93.123456,${y}`).join('\n')}\n`;
    expect([...(taken(read(text)).yieldKgPerHa ?? [])]).toEqual(yields.map(Number));
  });
});
