import { describe, expect, test } from 'vitest';
import { readLayout } from '../../src/intake/read-layout.ts';
import { sniffFile } from '../../src/intake/sniff-file.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

const NONE = { strip: null, treatment: null, block: null };

function read(text: string) {
  return readLayout(asBytes(text), 'list.csv', NONE);
}

function kindOf(text: string): string {
  return taken(sniffFile(asBytes(text), 'list.csv'));
}

const LIST = 'strip,treatment,block,passes\nS1,Leaf,1,"3-4, 7"\nS2,Check,1,5\nS3,Check,2,\nS4,Leaf,2,8–9\n';

describe('a list of strips without ground', () => {
  test('is told from weights, points and corners by what it does not hold', () => {
    expect(kindOf(LIST)).toBe('layout');
    expect(kindOf('Treatment;Block\nLeaf;1\nCheck;1\n')).toBe('layout');
    expect(kindOf('Plot\tTreatment\tPlace\n1\tLeaf\t1\n2\tCheck\t2\n')).toBe('layout');
    expect(kindOf('strip,treatment,block,weight (kg)\nS1,Leaf,1,812\n')).toBe('hand');
    expect(kindOf('strip,treatment,pass,protein\nS1,Leaf,1,11.2\n')).toBe('hand');
    expect(kindOf('strip,weight (kg)\nS1,812\n')).toBe('hand');
  });

  test('gives strips, treatments and blocks as a map does, with the passes that it names', () => {
    const outcome = read(LIST);
    const { layout } = taken(outcome);
    expect(layout.strips).toEqual([
      { id: 'S1', treatment: 'Leaf', block: '1', place: null, polygon: null, passes: [3, 4, 7] },
      { id: 'S2', treatment: 'Check', block: '1', place: null, polygon: null, passes: [5] },
      { id: 'S3', treatment: 'Check', block: '2', place: null, polygon: null },
      { id: 'S4', treatment: 'Leaf', block: '2', place: null, polygon: null, passes: [8, 9] },
    ]);
    expect(layout.treatments.map(({ name, isCheck }) => [name, isCheck])).toEqual([
      ['Leaf', false],
      ['Check', true],
    ]);
    expect(layout.blocks.map(({ name }) => name)).toEqual(['1', '2']);
    const bare = taken(read('Treatment\tBlock\tPlace\nLeaf\tN\t2\nCheck\tN\t1\n')).layout.strips;
    expect(bare.map(({ id, place }) => [id, place])).toEqual([
      ['N-Leaf-2', 2],
      ['N-Check-1', 1],
    ]);
  });

  test('names the cell whose passes cannot be meant', () => {
    const outcome = read(LIST.replace('8–9', '9-8'));
    expect(codesOf(outcome)).toContain('passesNotRead');
    expect(problemOf(outcome, 'passesNotRead')).toMatchObject({
      severity: 'error',
      row: 5,
      column: 'passes',
      details: { part: '9-8', fault: 'backwards' },
    });
    expect(codesOf(read(LIST.replace('"3-4, 7"', '1-99999999')))).toContain('passesNotRead');
  });

  test('names a strip that is listed twice, as for a map', () => {
    expect(codesOf(read(LIST.replace('S2', 'S1')))).toContain('stripIdTwice');
  });
});
