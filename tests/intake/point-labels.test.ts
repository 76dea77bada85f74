import { describe, expect, test } from 'vitest';
import { pointLabels } from '../../src/intake/point-labels.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { asBytes, codesOf, taken } from './as-bytes.ts';

const read = (text: string) => readPoints(asBytes(text), 'y.csv', null, null);
const named = (labels: { names: readonly string[]; of: Int16Array } | null | undefined) =>
  labels ? [...labels.of].map((place) => labels.names[place] ?? null) : labels;

describe('who and what harvested, point by point', () => {
  const ROWS = '42.1,-93.1,9,old,K. T.,2026-08-01\n42.2,-93.1,9,new ,K. T.,\n42.3,-93.1,9,,M.,2026-08-02\n';

  test.each([
    'Machine,Operator,Date',
    'Combine ID,Driver,Datum',
    'Mähdrescher,Fahrer,Harvest date',
    'Machine name,Operator name,Day',
  ])('%s', (headings) => {
    const points = taken(
      read(`Lat,Lon,Yield (t/ha),${headings},Time\n${ROWS.replaceAll('\n', ',10:00:00\n')}`),
    );
    expect(named(points.machine)).toEqual(['old', 'new', null]);
    expect(named(points.operator)).toEqual(['K. T.', 'K. T.', 'M.']);
    expect(named(points.day)).toEqual(['2026-08-01', null, '2026-08-02']);
  });

  test('of two columns the first is taken, and other things of a machine are none', () => {
    const two = read('Lat,Lon,Yield (t/ha),Machine ID,Machine name\n42.1,-93.1,9,7,old\n');
    expect(two.ok && named(two.value.machine)).toEqual(['7']);
    expect(codesOf(two)).not.toContain('askWhichColumn');
    const others = 'Combine speed (m/s),Machine hours,Combine engine load,Vehicle heading';
    expect(taken(read(`Lat,Lon,Yield (t/ha),${others}\n42.1,-93.1,9,1.5,200,80,90\n`)).machine).toBe(null);
  });

  test('a column of ever new names labels nothing', () => {
    expect(pointLabels(Array.from({ length: 100 }, (_, i) => `name ${i}`))).toBe(null);
    expect(pointLabels(['', '  '])).toBe(null);
  });
});

describe('when the log begins', () => {
  const START = Date.UTC(2026, 7, 1, 10, 0, 0) / 1000;

  test.each([
    ['a date with its zone', '2026-08-01T12:00:00+02:00', START],
    ['day, month, year', '31.08.2026 10:00:00', Date.UTC(2026, 7, 31, 10) / 1000],
    ['a clock alone', '10:00:00', null],
  ])('%s', (_, time, startS) => {
    expect(taken(read(`Lat,Lon,Yield (t/ha),Time\n42.1,-93.1,9,${time}\n`)).startS).toBe(startS);
  });

  test.each([
    ['seconds since 1970', START, START],
    ['seconds since the engine was started', 4000, null],
  ])('%s', (_, seconds, startS) => {
    const text = `Lat,Lon,Yield (t/ha),Time (s)\n42.1,-93.1,9,${seconds}\n42.2,-93.1,9,${seconds + 5}\n`;
    expect(taken(read(text))).toMatchObject({ startS, timeS: Float64Array.of(0, 5) });
  });
});
