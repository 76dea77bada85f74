#!/usr/bin/env node
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { PROJECT_ROOT } from '../../src/cli/builds.mjs';

/** `npm run calibrate`: builds the simulations and runs them. An argument sets the trials of a cell (20000). */
const folder = join(PROJECT_ROOT, 'dist/calibration');
const { build } = await import('vite');
await build({
  root: PROJECT_ROOT,
  configFile: false,
  logLevel: 'error',
  build: {
    ssr: 'tests/calibration/run-calibration.ts',
    outDir: 'dist/calibration/program',
    emptyOutDir: true,
    target: 'node20',
    rollupOptions: { output: { entryFileNames: 'run-calibration.mjs' } },
  },
});
const program = pathToFileURL(join(folder, 'program/run-calibration.mjs'));
const { runCalibration } = await import(program.href);
process.exitCode = await runCalibration({ program, folder, trials: Number(process.argv[2] ?? 20_000) });
