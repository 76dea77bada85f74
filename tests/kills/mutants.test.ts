import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MUTANTS } from './mutants.ts';

/** A mutant that no longer fits the code would be killed by nothing but its own absence. */
describe('mutants of npm run kills', () => {
  it.each(MUTANTS)('$file: $fault', ({ file, find, replace }) => {
    const source = readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8');
    expect(source.split(find)).toHaveLength(2);
    expect(replace).not.toBe(find);
  });
});
