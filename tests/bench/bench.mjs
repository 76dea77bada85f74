#!/usr/bin/env node
import { join } from 'node:path';
import { commandLineFolder, PROJECT_ROOT } from '../../src/cli/builds.mjs';
import { buildPrograms } from '../build-program.mjs';

/** `npm run bench`: builds the comparisons and the command line, then runs them and prints ratios. */
const programs = await buildPrograms(
  'dist/bench/program',
  ['run-bench', 'papaparse-and-turf', 'nine-columns', 'line-ends'].map((name) => `tests/bench/${name}.ts`),
);
await commandLineFolder();
const { runBench } = await import(programs['run-bench'].href);
await runBench({ folder: join(PROJECT_ROOT, 'dist/bench'), root: PROJECT_ROOT });
