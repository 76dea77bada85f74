import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { PROJECT_ROOT } from '../src/cli/builds.mjs';

/**
 * Builds TypeScript programs of tests/ for Node, into a folder below dist/ so that packages are found from there.
 * Gives the URL of each by its file's name.
 *
 * @param {string} outDir relative to the project, emptied first
 * @param {readonly string[]} sources relative to the project
 * @returns {Promise<Record<string, URL>>}
 */
export async function buildPrograms(outDir, sources) {
  const input = Object.fromEntries(sources.map((source) => [nameOf(source), source]));
  await build({
    root: PROJECT_ROOT,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: true,
      outDir,
      emptyOutDir: true,
      target: 'node20',
      rollupOptions: { input, output: { entryFileNames: '[name].mjs' } },
    },
  });
  return Object.fromEntries(
    Object.keys(input).map((name) => [name, pathToFileURL(join(PROJECT_ROOT, outDir, `${name}.mjs`))]),
  );
}

function nameOf(source) {
  return source.slice(source.lastIndexOf('/') + 1).replace(/\.ts$/, '');
}
