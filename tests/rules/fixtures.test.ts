import { describe, expect, it } from 'vitest';
import { projectFiles, readProjectFile } from './source-files.ts';

const MUST_SAY = [/source/i, /licen[cs]e|public domain|invented/i];

describe('each fixture', () => {
  const files = projectFiles().filter((path) => path.startsWith('fixtures/'));
  const folders = [...new Set(files.map((path) => path.split('/').slice(0, 2).join('/')))];

  it('has a folder of its own with a SOURCE.md', () => {
    const without = folders.filter((folder) => !files.includes(`${folder}/SOURCE.md`));
    expect(without, 'add SOURCE.md: source, licence, how the expected values came about').toEqual([]);
  });

  it('says where it comes from and under which licence', () => {
    const silent = folders
      .map((folder) => `${folder}/SOURCE.md`)
      .filter((path) => files.includes(path))
      .filter((path) => !MUST_SAY.every((pattern) => pattern.test(readProjectFile(path))));
    expect(silent, 'name the source and the licence (or that the data are invented)').toEqual([]);
  });
});
