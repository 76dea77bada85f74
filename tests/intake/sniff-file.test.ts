import { expect, test } from 'vitest';
import { sniffFile } from '../../src/intake/sniff-file.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import { asBytes, codesOf, taken } from './as-bytes.ts';

test.each([
  ['trial', JSON.stringify(newTrial('North field'))],
  ['layout', '\uFEFF {"type":"FeatureCollection","features":[]}'],
  ['points', 'Lat;Lon;Yield\n1,5;2,5;3\n'],
  ['points', `Lat,Lon,Yield\n${'42.1,-93.1,9.5\n'.repeat(20_000)}`],
  ['points', `Lat,Lon,Yield\n${'42.1,-93.1,9.5\n'.repeat(100_000)}`],
  ['layout', `${' '.repeat(2000)}{"type":"FeatureCollection",\n"features":[\n${'{},\n'.repeat(300_000)}{}]}`],
  ['hand', 'Strip,Weight (kg)\n1,900\n'],
])('tells a %s by its content, whatever its name', (kind, text) => {
  expect(taken(sniffFile(asBytes(text), 'file.dat'))).toBe(kind);
});

test.each([
  ['notGeoJson', '{"type":"Topology"}'],
  ['notGeoJson', '[]'],
  ['notJson', '{"type":'],
  ['notText', '\0\0\0'],
  ['emptyFile', ''],
  ['notATable', 'Dear diary,\nnothing here to see.\n'],
])('names the problem %s', (code, text) => {
  expect(codesOf(sniffFile(asBytes(text), 'file.csv'))).toEqual([code]);
});
