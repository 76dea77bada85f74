#!/usr/bin/env node
import { join } from 'node:path';
import { appFolder, commandLineFolder, PROJECT_ROOT } from '../../src/cli/builds.mjs';
import { findBrowser } from '../browser/find-browser.mjs';
import { buildPrograms } from '../build-program.mjs';

/** `npm run bench`: builds the comparisons and the command line, then runs them and prints ratios. `-- harvest` and the like
 * run a part alone; `-- page` is the last part of `harvest`. */
const programs = await buildPrograms(
  'dist/bench/program',
  [
    'run-bench',
    'papaparse-and-turf',
    'papaparse-and-turf-by-strip',
    'nine-columns',
    'line-ends',
    'redraw-in-page',
  ].map((name) => `tests/bench/${name}.ts`),
);
await commandLineFolder();
const { runBench } = await import(programs['run-bench'].href);
const only = process.argv.slice(2);
const browserPath = (await findBrowser()).path;
const folders = { folder: join(PROJECT_ROOT, 'dist/bench'), appFolder: await appFolder() };
await runBench({ ...folders, root: PROJECT_ROOT, browserPath, only });
