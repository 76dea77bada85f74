import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { INTAKE_PROBLEM_CODES } from '../../src/intake/problem-codes.ts';
import { readHand } from '../../src/intake/read-hand.ts';
import { readLayout } from '../../src/intake/read-layout.ts';
import { readPlotTable } from '../../src/intake/read-plot-table.ts';
import { readPoints } from '../../src/intake/read-points.ts';
import { sniffFile } from '../../src/intake/sniff-file.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import { asBytes } from './as-bytes.ts';

const NONE = { strip: null, treatment: null, block: null };
const TABLE = { treatment: null, block: null, responses: [], subsamples: true };
const DOCUMENTED = new Map<string, readonly string[]>(
  INTAKE_PROBLEM_CODES.map(({ code, details }) => [code, Object.keys(details).sort()]),
);

const READERS: readonly ((bytes: Uint8Array) => Outcome<unknown>)[] = [
  (bytes) => readPoints(bytes, 'f', null, null),
  (bytes) => readHand(bytes, 'f', null, null),
  (bytes) => readPlotTable(bytes, 'f', TABLE),
  (bytes) => readLayout(bytes, 'f', NONE),
  (bytes) => sniffFile(bytes, 'f'),
];

const SEEDS: readonly string[] = [
  'Lon,Lat,Yield (t/ha),Moisture %,Time\n11.5,48.1,9.1,15.5,10:00:00\n11.6,48.2,9.2,15.6,10:00:01\n',
  'Strip;Weight (kg);Länge (m);Breite (m)\nA;512,5;200;6\nB;500;200;6\n',
  'trt,rep,yield\nA,1,"1,234.5"\nB,1,NA\n',
  '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"trt":"A","strip":1},"geometry":{"type":"Polygon","coordinates":[[[1,2],[3,4],[5,6],[1,2]]]}}]}',
];

/** Every refusal has an error; every problem is a documented one with exactly its documented details. */
function holdsItsWord(outcome: Outcome<unknown>): void {
  if (!outcome.ok) expect(outcome.problems.some(({ severity }) => severity === 'error')).toBe(true);
  for (const { code, details } of outcome.problems) {
    expect([code, Object.keys(details).sort()]).toEqual([code, DOCUMENTED.get(code)]);
    for (const value of Object.values(details)) expect(Number.isNaN(value)).toBe(false);
  }
}

const mutation = fc.oneof(
  fc.record({ kind: fc.constant('set' as const), at: fc.nat(), byte: fc.integer({ min: 0, max: 255 }) }),
  fc.record({ kind: fc.constant('cut' as const), at: fc.nat(), byte: fc.integer({ min: 1, max: 40 }) }),
  fc.record({
    kind: fc.constant('insert' as const),
    at: fc.nat(),
    byte: fc.constantFrom(...asBytes(',;"\n\r\t.-{}[]0é€')),
  }),
);

function mutated(
  seed: Uint8Array,
  changes: readonly { kind: string; at: number; byte: number }[],
): Uint8Array {
  const bytes = [...seed];
  for (const { kind, at, byte } of changes) {
    const place = at % (bytes.length + 1);
    if (kind === 'set') bytes[Math.min(place, bytes.length - 1)] = byte;
    else if (kind === 'cut') bytes.splice(place, byte);
    else bytes.splice(place, 0, byte);
    if (bytes.length === 0) return new Uint8Array();
  }
  return new Uint8Array(bytes);
}

test('every documented problem is provoked by name in a test of this folder', () => {
  const texts = readdirSync('tests/intake')
    .filter((name) => name.endsWith('.test.ts') && name !== 'bad-input.test.ts')
    .map((name) => readFileSync(`tests/intake/${name}`, 'utf8'));
  const silent = [...DOCUMENTED.keys()].filter((code) => !texts.some((text) => text.includes(`'${code}'`)));
  expect(silent).toEqual([]);
});

describe('any input', () => {
  test('mutated files never throw and every problem is documented', () => {
    const changes = fc.array(mutation, { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(fc.constantFrom(...SEEDS), changes, fc.constantFrom(...READERS), (seed, list, reader) => {
        holdsItsWord(reader(mutated(asBytes(seed), list)));
      }),
      { numRuns: 3000, seed: 77 },
    );
  });

  test('mutated large logs, which are read from their bytes, never throw', () => {
    const large = asBytes(`Lat,Lon,Yield (t/ha),Time\n${'42.1,-93.1,9.5,10:00:00\n'.repeat(12_000)}`);
    const changes = fc.array(mutation, { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(changes, (list) => {
        const bytes = Uint8Array.from(large);
        for (const { at, byte } of list) bytes[(at * 7919) % bytes.length] = byte;
        holdsItsWord(readPoints(bytes, 'f', null, null));
      }),
      { numRuns: 12, seed: 80 },
    );
  });

  test('random bytes and random JSON never throw', () => {
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 300 }),
      fc.json().map(asBytes),
      fc.json().map((text) => asBytes(`{"type":"FeatureCollection","features":[${text}]}`)),
      fc
        .json()
        .map((text) =>
          asBytes(
            `{"type":"Feature","properties":${text},"geometry":{"type":"Polygon","coordinates":${text}}}`,
          ),
        ),
    );
    fc.assert(
      fc.property(bytes, fc.constantFrom(...READERS), (input, reader) => {
        holdsItsWord(reader(input));
      }),
      { numRuns: 1500, seed: 78 },
    );
  });

  test('plots hold numbers or null, never NaN or infinity', () => {
    const cell = fc.oneof(
      fc.constantFrom('', 'NA', '.', 'inf', '1e308', '-1e308', '1e-320', '3', '2.5'),
      fc.double().map(String),
    );
    fc.assert(
      fc.property(fc.array(cell, { minLength: 1, maxLength: 8 }), (cells) => {
        const text = `trt,y\n${cells.map((c, i) => `T${i},${c}`).join('\n')}\n`;
        const outcome = readPlotTable(asBytes(text), 'f', { ...TABLE, responses: ['y'] });
        if (!outcome.ok) return;
        for (const value of outcome.value.responses.flatMap(({ deviations }) => deviations)) {
          expect(value === null || Number.isFinite(value)).toBe(true);
        }
      }),
      { numRuns: 300, seed: 79 },
    );
  });
});
