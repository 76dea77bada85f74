#!/usr/bin/env node
import { join } from 'node:path';
import { PROJECT_ROOT } from '../../src/cli/builds.mjs';
import { buildPrograms } from '../build-program.mjs';

/** `npm run calibrate`: builds the simulations and runs them. An argument sets the trials of a cell (20000). */
const programs = await buildPrograms('dist/calibration/program', ['tests/calibration/run-calibration.ts']);
const program = programs['run-calibration'];
const { runCalibration } = await import(program.href);
process.exitCode = await runCalibration({
  program,
  folder: join(PROJECT_ROOT, 'dist/calibration'),
  trials: Number(process.argv[2] ?? 20_000),
});
