import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeText } from '../../src/intake/decode-text.ts';
import { readDelimited } from '../../src/intake/delimited-table.ts';
import { headerWidthQuestion } from '../../src/intake/header-width-question.ts';
import { readHand } from '../../src/intake/read-hand.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import type { HarvestFile } from '../../src/trial/trial-document.ts';
import { asBytes, codesOf, problemOf, taken, utf16 } from './as-bytes.ts';

const table = (text: string) => readDelimited(asBytes(text), 't.csv');
const points = (text: string, file: HarvestFile | null = null) =>
  readPoints(asBytes(text), 'y.csv', file, null);

const HEADINGS = 'Lon,Lat,Yield (t/ha),Moisture (%)';
const ROWS = '11.5001,48.1001,9.125,15.5\n11.5002,48.1002,9.25,15.6\n11.5003,48.1003,8.75,15.7\n';
const PLAIN = taken(points(`${HEADINGS}\n${ROWS}`));

/** Text in the first yield shows which row of the file that yield is taken to stand in. */
const withTextIn = (text: string) => text.replace('9.125', 'oops!');

/** What must not change whatever stands around the table. */
function values(text: string) {
  const { longitude, latitude, yieldKgPerHa, moisturePercent } = taken(points(text));
  return { longitude, latitude, yieldKgPerHa, moisturePercent };
}
const EXPECTED = {
  longitude: PLAIN.longitude,
  latitude: PLAIN.latitude,
  yieldKgPerHa: PLAIN.yieldKgPerHa,
  moisturePercent: PLAIN.moisturePercent,
};

describe('lines above the headings', () => {
  test.each([
    ['a title', 'Harvest of the north field'],
    ['comments', '# written by a monitor\n# all rights to the grower'],
    ['comments with separators', '# one, two, three, four\n// five, six'],
    ['names and values', 'Field,North\nSeason,2024\nOperator,A. N.'],
    ['a title with blank cells', 'Harvest of the north field,,,\n,,,'],
  ])('%s change nothing (law) and are said', (_, above) => {
    const text = `${above}\n${HEADINGS}\n${ROWS}`;
    expect(values(text)).toEqual(EXPECTED);
    expect(problemOf(points(text), 'linesAboveHeadings')).toMatchObject({ row: 1, severity: 'note' });
    const first = { row: above.split('\n').length + 2, severity: 'warning' };
    expect(problemOf(points(withTextIn(text)), 'textInNumberColumn')).toMatchObject(first);
  });

  test('headings inside a comment are found', () => {
    expect(values(`# made somewhere\n# ${HEADINGS}\n${ROWS}`)).toEqual(EXPECTED);
    expect(taken(table('#,Treatment,Yield\n1,A,5\n2,B,6\n')).headings).toEqual(['#', 'Treatment', 'Yield']);
  });

  test.each([
    ['a decimal comma in a comma-separated file', 'trt,y\nA,1,5\nB,2,6\n', ['trt', 'y']],
    ['a blank heading', 'Strip,Weight,\nA,512,200\nB,500,200\n', ['Strip', 'Weight', '']],
    ['lost plots first', 'trt,y,z\nNA,NA,x\nA,5,6\n', ['trt', 'y', 'z']],
  ])('%s is no reason to pass over the first line', (_, text, headings) => {
    expect(taken(table(text)).headings).toEqual(headings);
  });

  test('a large file with title and units is read from its bytes as by way of a table', () => {
    const rows = ROWS.repeat(4000);
    const above = 'North field\nSeason,2024\nLon,Lat,Yield,Moisture\ndeg,deg,t/ha,%\n';
    const scanned = points(above + rows);
    const quoted = points(above + rows.replace('9.125', '"9.125"'));
    expect(asBytes(above + rows).length).toBeGreaterThan(256 * 1024);
    expect(taken(scanned)).toEqual(taken(quoted));
    expect(taken(scanned).count).toBe(12_000);
    const odd = points(withTextIn(above + rows));
    expect(problemOf(odd, 'textInNumberColumn')).toMatchObject({ row: 5 });
  });
});

describe('units in a row of their own', () => {
  test.each([['deg,deg,t/ha,%'], [',,[t/ha],[%]'], ['-,-,(t/ha),%'], ['WGS84,WGS84,kg/ha,%']])(
    '%s',
    (units) => {
      const rows = units.includes('kg/ha')
        ? ROWS.replace(/,(\d\.\d+),1/g, (_, y) => `,${Number(y) * 1000},1`)
        : ROWS;
      const text = `Lon,Lat,Yield,Moisture\n${units}\n${rows}`;
      expect(values(text)).toEqual(EXPECTED);
      expect(problemOf(points(text), 'unitsBelowHeadings').row).toBe(2);
    },
  );

  test('a row of names that happen to be units is a row', () => {
    expect(taken(table('trt,y\nt,\nA,5\nB,6\n')).rows).toHaveLength(3);
    expect(taken(table('trt,y\nA,kg\nB,5\nC,6\n')).rows).toHaveLength(3);
  });

  test('heading and row of units that contradict each other stop the reading', () => {
    const outcome = points(`${HEADINGS}\ndeg,deg,bu/ac,%\n${ROWS}`);
    expect(problemOf(outcome, 'unitsDisagree')).toMatchObject({
      column: 'Yield (t/ha)',
      details: { inHeading: 't/ha', below: 'bu/ac' },
    });
  });

  test('a column is found by its name without the unit', () => {
    const columns = { yield: { heading: 'Grain', unit: null } };
    const file: HarvestFile = { path: 'y.csv', kind: 'points', columns, yieldColumns: [] };
    const text = `Lon,Lat,Grain,Moisture\ndeg,deg,t/ha,%\n${ROWS}`;
    expect(taken(points(text, file)).yieldKgPerHa).toEqual(PLAIN.yieldKgPerHa);
  });
});

describe('encodings and separators', () => {
  test.each(['le', 'be'] as const)('UTF-16 %s without a mark is known by its zeros', (order) => {
    const text = `${HEADINGS}\n${ROWS}`;
    const bytes = utf16(text, order).subarray(2);
    const outcome = readPoints(bytes, 'y.csv', null, null);
    expect(taken(outcome).yieldKgPerHa).toEqual(PLAIN.yieldKgPerHa);
    expect(codesOf(outcome)).toContain('readAsUtf16');
  });

  test('UTF-16 without a mark is read in a large file too', () => {
    const bytes = utf16(`${HEADINGS}\n${ROWS.repeat(2000)}`, 'le').subarray(2);
    expect(taken(readPoints(bytes, 'y.csv', null, null)).count).toBe(6000);
  });

  test('bytes with zeros that are no UTF-16 are no text', () => {
    const bytes = new Uint8Array(4000).map((_, i) => (i % 2 === 0 ? 1 + (i % 7) : 0));
    expect(codesOf(decodeText(bytes, 'f'))).toContain('notText');
  });

  test('bars separate', () => {
    expect(values(`${HEADINGS}\n${ROWS}`.replaceAll(',', '|'))).toEqual(EXPECTED);
    expect(values(`${HEADINGS}\n${ROWS}`.replaceAll(',', '|').replaceAll('.', ','))).toEqual(EXPECTED);
  });

  test('runs of spaces separate where every line agrees', () => {
    const padded = `${HEADINGS}\n${ROWS}`
      .split('\n')
      .map((line) =>
        line
          .split(',')
          .map((cell) => cell.padEnd(16))
          .join(''),
      )
      .join('\n');
    expect(values(padded)).toEqual(EXPECTED);
    expect(values(`Lon Lat Yield_t/ha Moisture_%\n${ROWS.replaceAll(',', ' ')}`)).toEqual(EXPECTED);
    expect(taken(table(padded)).separator).toBe(' ');
  });

  test.each([
    ['prose', 'It was a dry year\nand the crop was thin\nbut 12 strips held\n'],
    ['names with spaces', 'Strip Treatment Weight\nNorth one Check 512\nSouth Check 500\n'],
    ['two columns', 'Strip Weight\nA 5\nB 6\n'],
  ])('spaces in %s separate nothing', (_, text) => {
    expect(codesOf(table(text))).toEqual(['notATable']);
  });

  test('thousands separators are read where they cannot be decimals', () => {
    const text = 'Lon,Lat,Yield (kg/ha)\n11.5,48.1,"9,125.5"\n11.6,48.2,9 250.0\n11.7,48.3,"8\'750.25"\n';
    expect([...(taken(points(text)).yieldKgPerHa ?? [])]).toEqual([9125.5, 9250, 8750.25]);
  });
});

describe('units inside the cells', () => {
  test('the same behind every number is the unit of the column', () => {
    const text = 'Lon,Lat,Yield,Moisture\n11.51,48.1,9.125 t/ha,15.5 %\n11.52,48.2,9.25 t/ha,15.6%\n';
    const outcome = points(text);
    expect([...(taken(outcome).yieldKgPerHa ?? [])]).toEqual([9125, 9250]);
    expect([...(taken(outcome).moisturePercent ?? [])]).toEqual([15.5, 15.6]);
    expect(problemOf(outcome, 'unitsInCells')).toMatchObject({ column: 'Yield', details: { unit: 't/ha' } });
  });

  test.each([
    ['two units', 'Yield', '9.1 t/ha', '145 bu/ac'],
    ['a unit and none', 'Yield', '9.1 t/ha', '9.2'],
    ['another than the heading', 'Yield (t/ha)', '9.1', '9100 kg/ha'],
  ])('%s stop the reading with the row', (_, heading, first, second) => {
    const outcome = points(`Lon,Lat,${heading}\n11.51,48.1,${first}\n11.52,48.2,${second}\n`);
    expect(outcome.ok).toBe(false);
    expect(problemOf(outcome, 'mixedUnits').column).toBe(heading);
  });

  test('also in a hand harvest, and late in a large log', () => {
    const hand = 'Strip,Weight (kg),Length (m),Width (m)\nA,512,200,6\nB,1128 lb,200,6\n';
    expect(problemOf(readHand(asBytes(hand), 'h.csv', null, null), 'mixedUnits')).toMatchObject({ row: 3 });
    const log = `Lon,Lat,Yield (t/ha)\n${'11.5,48.1,9.5\n'.repeat(20_000)}11.6,48.1,9500 kg/ha\n`;
    expect(problemOf(points(log), 'mixedUnits')).toMatchObject({ row: 20_002 });
  });
});

describe('times in common forms', () => {
  const seconds = (first: string, second: string) => {
    const quoted = (time: string) => (time.includes(',') ? `"${time}"` : time);
    const text = `Lat,Lon,Yield (t/ha),Time\n42.1,-93.1,9,${quoted(first)}\n42.2,-93.1,9,${quoted(second)}\n`;
    return taken(points(text)).timeS?.[1];
  };
  test.each([
    ['20240901T100000', '20240901T100001.5', 1.5],
    ['20240901100000', '20240901100010', 10],
    ['2024/09/01 23:59:59', '2024/09/02 00:00:01', 2],
    ['2024.9.1 10:00', '2024.9.1 10:01', 60],
    ['1-Sep-2024 10:00:00', '2-Sep-2024 10:00:00', 86_400],
    ['30 Okt 2024 10:00:00', '1 Nov 2024 10:00:00', 172_800],
    ['Sep 1, 2024 11:59:59 AM', 'Sep 1, 2024 12:00:01 PM', 2],
    ['13/9/24 10:00:00', '13/9/24 10:00:05', 5],
  ])('%s to %s', (first, second, expected) => {
    expect(seconds(first, second)).toBe(expected);
  });

  test('an impossible day is no time', () => {
    const text = 'Lat,Lon,Yield (t/ha),Time\n42.1,-93.1,9,20240231T100000\n42.2,-93.1,9,32 Sep 2024 10:00\n';
    expect(problemOf(points(text), 'timeNotRead').details.count).toBe(2);
  });

  test('a clock that runs backwards is said with the step and the row', () => {
    const times = ['10:00:00', '10:00:05', '10:00:03', '10:00:04', '09:59:00'];
    const text = `Lat,Lon,Yield (t/ha),Time\n${times.map((t, i) => `42.1${i},-93.1,9,${t}`).join('\n')}\n`;
    expect(problemOf(points(text), 'clockBackwards')).toMatchObject({
      severity: 'warning',
      row: 4,
      details: { count: 2, largestS: 64 },
    });
  });

  test('a clock that stands still or runs on is not', () => {
    const steps = fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 2, maxLength: 20 });
    fc.assert(
      fc.property(steps, (list) => {
        const at = (row: number) => list.slice(0, row + 1).reduce((sum, step) => sum + step, 0);
        const rows = list.map((_, i) => `42.1${i},-93.1,9,${at(i)}`);
        expect(codesOf(points(`Lat,Lon,Yield (t/ha),Time (s)\n${rows.join('\n')}\n`))).not.toContain(
          'clockBackwards',
        );
      }),
      { numRuns: 50, seed: 12 },
    );
  });
});

describe('what is asked or said once', () => {
  test('all points in one place', () => {
    const text = `Lon,Lat,Yield (t/ha)\n${'11.5,48.1,9\n'.repeat(5)}`;
    expect(problemOf(points(text), 'allInOnePlace')).toMatchObject({
      severity: 'warning',
      details: { count: 5 },
    });
    expect(codesOf(points(`${text}11.5,48.10001,9\n`))).not.toContain('allInOnePlace');
  });

  test('a header width that nothing tells, for all files together', () => {
    const known = { file: 'a', widthM: Float64Array.of(6) };
    const unknown = ['b', 'c'].map((file) => ({ file, widthM: null }));
    const asked = headerWidthQuestion([known, ...unknown], null);
    expect(asked).toHaveLength(1);
    expect(asked[0]).toMatchObject({ code: 'askHeaderWidth', details: { files: ['b', 'c'] } });
    expect(headerWidthQuestion(unknown, 6)).toEqual([]);
    expect(headerWidthQuestion([known], null)).toEqual([]);
  });

  test('a last line that breaks off is left out', () => {
    expect(problemOf(points(`${HEADINGS}\n${ROWS}11.5004,48.1`), 'lastLineCutOff').row).toBe(5);
    expect(taken(points(`${HEADINGS}\n${ROWS}11.5004,48.1`)).count).toBe(3);
  });
});
