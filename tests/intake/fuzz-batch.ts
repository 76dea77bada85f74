import fc from 'fast-check';
import { changedSource, changes, holdsItsWord, READERS, SEEDS } from './fuzz-inputs.ts';

/** One batch of the long form, in a process of its own that `fuzz-long.mjs` watches: it may end it at any time. */
interface Batch {
  readonly seed: number;
  readonly runs: number;
}

const property = fc.asyncProperty(
  fc.constantFrom(...SEEDS),
  changes,
  fc.constantFrom(...Object.keys(READERS)),
  async (seed, list, reader) => {
    const read = READERS[reader];
    if (read === undefined) throw new Error(`no reader ${reader}`);
    holdsItsWord(await read(changedSource(seed, list)));
  },
);

process.on('message', async ({ seed, runs }: Batch) => {
  const details = await fc.check(property, { seed, numRuns: runs });
  const fault = details.failed ? `${details.counterexamplePath}: ${String(details.errorInstance)}` : null;
  const [from, list, reader] = details.counterexample ?? [];
  const example = details.failed ? { from: from?.name, list, reader } : null;
  process.send?.({ seed, runs: details.numRuns, fault, example });
});
process.send?.('ready');
