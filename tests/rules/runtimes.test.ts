import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { PROJECT_ROOT } from './source-files.ts';

function filesOfProgram(project: string): readonly string[] {
  const listed = execFileSync('node_modules/.bin/tsc', ['--noEmit', '--listFilesOnly', '-p', project], {
    cwd: PROJECT_ROOT,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return listed.split('\n').filter((path) => path !== '');
}

describe('each program sees only what its runtime has', () => {
  const remedy =
    'a package drags these globals in: declare what is used of it by hand (paths in tsconfig.json)';

  it('pure rooms see neither Node nor the DOM', () => {
    const foreign = filesOfProgram('src/tsconfig.pure.json').filter((path) =>
      /@types\/node\/|\/lib\.dom|\/lib\.webworker/.test(path),
    );
    expect(foreign, remedy).toEqual([]);
  });

  it('the app sees the DOM and no Node', () => {
    const files = filesOfProgram('src/ui/tsconfig.json');
    expect(files.some((path) => path.endsWith('/lib.dom.d.ts'))).toBe(true);
    expect(
      files.filter((path) => path.includes('@types/node/')),
      remedy,
    ).toEqual([]);
  });

  it('the command line sees Node and no DOM', () => {
    const files = filesOfProgram('src/cli/tsconfig.json');
    expect(files.some((path) => path.includes('@types/node/'))).toBe(true);
    expect(files.filter((path) => path.endsWith('/lib.dom.d.ts'))).toEqual([]);
  });
});
