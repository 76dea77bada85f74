import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { asBytes } from './as-bytes.ts';
import { changedSource, changes, holdsItsWord, READERS, SEEDS } from './fuzz-inputs.ts';
import { source } from './made-files.ts';

/** The short form; `npm run fuzz` takes the same property a hundred thousand times, each batch in a watched process. */
describe('every reader gives a result or a named problem', () => {
  const names = Object.keys(READERS);

  test('each seed is read by the reader it was made for', async () => {
    for (const { name, bytes, beside = {} } of SEEDS.filter((seed) => !['dbf', 'prj'].includes(seed.name))) {
      const from = source(name, bytes, beside);
      const outcomes = await Promise.all(names.map((reader) => READERS[reader]!(from)));
      for (const outcome of outcomes) holdsItsWord(outcome);
      const read = names.filter((reader, i) => outcomes[i]?.ok && !['sniff', 'columns'].includes(reader));
      const asks = outcomes.some(({ problems }) =>
        problems.some(({ code }) => code === 'bushelsNeedCrop' || code === 'mixedUnits'),
      );
      expect(
        read.length > 0 || asks,
        `${name}: ${JSON.stringify(outcomes.flatMap(({ problems }) => problems))}`,
      ).toBe(true);
    }
  });

  test('of mutated files', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...SEEDS),
        changes,
        fc.constantFrom(...names),
        async (seed, list, reader) => {
          holdsItsWord(await READERS[reader]!(changedSource(seed, list)));
        },
      ),
      { numRuns: 900, seed: 81 },
    );
  });

  test('of random bytes behind each beginning that a format is known by', async () => {
    const beginnings = [
      [0, 0, 0x27, 0x0a],
      [0x50, 0x4b, 3, 4],
      [...asBytes('<kml>')],
      [0xff, 0xfe],
      [0x7b],
      [],
    ];
    const bytes = fc.tuple(fc.constantFrom(...beginnings), fc.uint8Array({ maxLength: 300 }));
    await fc.assert(
      fc.asyncProperty(bytes, fc.constantFrom(...names), async ([beginning, rest], reader) => {
        const whole = new Uint8Array([...beginning, ...rest]);
        holdsItsWord(await READERS[reader]!(source('f.shp', whole, { 'f.dbf': rest })));
      }),
      { numRuns: 400, seed: 82 },
    );
  });
});
