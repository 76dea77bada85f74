#!/usr/bin/env node
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { PROJECT_ROOT } from '../../src/cli/builds.mjs';

/** The long form of the harvest's simulations: node tests/simulator/judge-harvest.mjs [fields of each kind, 300]. */
const folder = join(PROJECT_ROOT, 'dist/judge-harvest');
await build({
  root: PROJECT_ROOT,
  configFile: false,
  logLevel: 'error',
  build: {
    ssr: 'tests/simulator/judge-harvest.ts',
    outDir: folder,
    emptyOutDir: true,
    target: 'node20',
    rollupOptions: { output: { entryFileNames: 'judge-harvest.mjs' } },
  },
});
const { judgeHarvest } = await import(pathToFileURL(join(folder, 'judge-harvest.mjs')).href);
process.exitCode = judgeHarvest(Number(process.argv[2] ?? 300)) ? 0 : 1;
