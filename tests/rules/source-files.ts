import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const PROJECT_ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** All files of the project: what git tracks and what it does not ignore, with forward slashes. */
export function projectFiles(): readonly string[] {
  const listed = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: PROJECT_ROOT,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return [
    ...new Set(listed.split('\n').filter((path) => path !== '' && existsSync(`${PROJECT_ROOT}/${path}`))),
  ].sort();
}

export function readProjectFile(path: string): string {
  return readFileSync(`${PROJECT_ROOT}/${path}`, 'utf8');
}

/** TypeScript sources of the product itself. */
export function productSources(): readonly string[] {
  return projectFiles().filter((path) => /^(analyses|src)\/.*\.ts$/.test(path) && !path.endsWith('.d.ts'));
}
