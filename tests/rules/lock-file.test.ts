import { describe, expect, it } from 'vitest';
import { readProjectFile } from './source-files.ts';

interface Manifest {
  readonly dependencies: Record<string, string>;
  readonly devDependencies: Record<string, string>;
  readonly private?: boolean;
  readonly engines?: { readonly node?: string };
}

interface LockFile {
  readonly packages: Record<string, { readonly resolved?: string; readonly version?: string }>;
}

const manifest = JSON.parse(readProjectFile('package.json')) as Manifest;
const lock = JSON.parse(readProjectFile('package-lock.json')) as LockFile;

describe('the lock file', () => {
  it('holds no registry addresses', () => {
    const addressed = Object.entries(lock.packages).filter(([, entry]) =>
      /^https?:/.test(entry.resolved ?? ''),
    );
    expect(
      addressed.map(([name]) => name),
      'set omit-lockfile-registry-resolved=true in .npmrc and make the lock file anew',
    ).toEqual([]);
  });

  it('and the manifest name each direct dependency at one exact version', () => {
    const wanted = { ...manifest.dependencies, ...manifest.devDependencies };
    const loose = Object.entries(wanted).filter(
      ([name, version]) => lock.packages[`node_modules/${name}`]?.version !== version,
    );
    expect(loose, 'pin these in package.json and run npm install').toEqual([]);
  });

  it('belongs to a private package that says which Node it needs', () => {
    expect(manifest.private).toBe(true);
    expect(manifest.engines?.node).toBe('>=20.19');
  });
});
