#!/usr/bin/env node
import { appFolder, commandLineFolder, PROJECT_ROOT } from '../../src/cli/builds.mjs';
import { findBrowser } from '../browser/find-browser.mjs';
import { buildPrograms } from '../build-program.mjs';

/**
 * Does the app hold out? A walk at random over what users do, in a browser, for so many minutes, with laws held along
 * the way. Prints the seed; the same seed walks the same way. Ends with 1 where a law breaks.
 *
 *   npm run soak [-- minutes [seed]]
 */
const minutes = Number(process.argv[2] ?? 10);
const seed = Number(process.argv[3] ?? Date.now() % 1_000_000);
const { 'run-soak': program } = await buildPrograms('dist/soak', ['tests/soak/run-soak.ts']);
await commandLineFolder();
const { runSoak } = await import(program.href);
const browserPath = (await findBrowser()).path;
const isHeld = await runSoak({
  minutes,
  seed,
  browserPath,
  appFolder: await appFolder(),
  root: PROJECT_ROOT,
});
process.exitCode = isHeld ? 0 : 1;
