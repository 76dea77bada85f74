import { expect, it } from 'vitest';
import { sentencesByFile } from '../../src/words/assumption-sentences.ts';

it('sentences of one file stand together under its name, none lost, those of no file by themselves', () => {
  const said = ['a.csv: no heading is recorded.', 'Strips are ground.', 'b: c.csv: wet.', 'a.csv: set.'];
  expect(sentencesByFile(said, ['a.csv', 'b: c.csv'])).toEqual([
    { file: 'a.csv', sentences: ['No heading is recorded.', 'Set.'] },
    { file: null, sentences: ['Strips are ground.'] },
    { file: 'b: c.csv', sentences: ['Wet.'] },
  ]);
});
