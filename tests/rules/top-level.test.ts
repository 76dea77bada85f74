import { describe, expect, it } from 'vitest';
import { projectFiles } from './source-files.ts';

/** Fixed by the user's brief. */
const ALLOWED =
  /^(package\.json|package-lock\.json|tsconfig\.json|vite\.config\.ts|src|analyses|fixtures|tests|README\.md|DEVELOPERS\.md|index\.html|CHANGELOG\.md|LICENSE|\..+)$/;

const VAGUE_NAMES = /(^|\/)(utils?|helpers?|common|misc|shared|lib)(\.|\/)/;

describe('the layout of the project', () => {
  const files = projectFiles();

  it('keeps to the top level that was fixed', () => {
    const extra = [...new Set(files.map((path) => path.split('/')[0] ?? ''))].filter(
      (name) => !ALLOWED.test(name),
    );
    expect(extra, 'move these below src, analyses, fixtures or tests').toEqual([]);
  });

  it('names files after what they hold', () => {
    const vague = files.filter((path) => VAGUE_NAMES.test(path));
    expect(vague, 'rename these after what they hold').toEqual([]);
  });
});
