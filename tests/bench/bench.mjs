#!/usr/bin/env node
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { commandLineFolder, PROJECT_ROOT } from '../../src/cli/builds.mjs';

/** `npm run bench`: builds the comparisons and the command line, then runs them and prints ratios. */
const folder = join(PROJECT_ROOT, 'dist/bench');
const { build } = await import('vite');
await build({
  root: PROJECT_ROOT,
  configFile: false,
  logLevel: 'error',
  build: {
    ssr: true,
    outDir: 'dist/bench/program',
    emptyOutDir: true,
    target: 'node20',
    rollupOptions: {
      input: Object.fromEntries(
        ['run-bench', 'plain-clipping', 'line-ends'].map((name) => [name, `tests/bench/${name}.ts`]),
      ),
      output: { entryFileNames: '[name].mjs' },
    },
  },
});
await commandLineFolder();
const { runBench } = await import(pathToFileURL(join(folder, 'program/run-bench.mjs')).href);
await runBench({ folder, root: PROJECT_ROOT });
