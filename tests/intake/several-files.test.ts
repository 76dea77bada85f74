import { describe, expect, test } from 'vitest';
import { readPoints } from '../../src/intake/read-points.ts';
import { volumeBesideMass } from '../../src/intake/volume-beside-mass.ts';
import { cropWithBushel, findCrop } from '../../src/trial/crops.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const WHEAT = findCrop('wheat');
const log = (yieldHeading: string) => asBytes(`Lon,Lat,${yieldHeading}\n11.5,48.1,60\n11.6,48.1,70\n`);
const read = (file: string, heading: string, kgPerBushel: number | null = null) =>
  taken(readPoints(log(heading), file, null, cropWithBushel(WHEAT, kgPerBushel)));

describe('a yield by volume in one file and by mass in another', () => {
  const volume = read('a.csv', 'Yield (bu/ac)');
  const mass = read('b.csv', 'Yield (t/ha)');

  test('is asked about once, with the files of each kind and the bushel that was taken', () => {
    const asked = volumeBesideMass([mass, volume, read('c.csv', 'Weight (bu)')], [], 60);
    expect(asked).toHaveLength(1);
    expect(problemOf({ problems: asked }, 'volumeBesideMass')).toMatchObject({
      severity: 'warning',
      file: 'a.csv',
      details: { volumes: ['a.csv', 'c.csv'], masses: ['b.csv'] },
    });
    // 60 lb of 0.45359237 kg.
    expect(asked[0]?.details.kgPerBushel).toBeCloseTo(27.2155422, 9);
  });

  test('is not asked about where all files are of one kind, or the bushel was said', () => {
    expect(volumeBesideMass([volume, read('c.csv', 'Yield (bu/ac)')], [], 60)).toEqual([]);
    expect(volumeBesideMass([mass], [], 60)).toEqual([]);
    expect(volumeBesideMass([volume, mass], [{ path: 'a.csv', kgPerBushel: 26 }], 60)).toEqual([]);
  });

  test('a bushel said for one file makes the mass, also of a crop without a trade bushel', () => {
    // 60 bu/ac of 30 kg on 0.40468564224 ha.
    const kgPerHa = (60 * 30) / 0.40468564224;
    expect(read('a.csv', 'Yield (bu/ac)', 30).yieldKgPerHa?.[0]).toBeCloseTo(kgPerHa, 8);
    const unknown = readPoints(log('Yield (bu/ac)'), 'a.csv', null, cropWithBushel(null, 30));
    expect(taken(unknown).yieldKgPerHa?.[0]).toBeCloseTo(kgPerHa, 8);
    expect(codesOf(readPoints(log('Yield (bu/ac)'), 'a.csv', null, cropWithBushel(null, null)))).toContain(
      'bushelsNeedCrop',
    );
  });
});
