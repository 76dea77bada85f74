import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { appFolder, commandLineFolder, PROJECT_ROOT } from '../src/cli/builds.mjs';
import { findBrowser } from './browser/find-browser.mjs';

/**
 * `npm test`: format, lint, types, import rules, unit, oracle and browser tests in this order. Prints each part's
 * seconds and closes with one line that counts the tests. The first part that fails ends the run.
 */
const RESULTS = join(PROJECT_ROOT, 'dist/test-results');
const BIN = join(PROJECT_ROOT, 'node_modules/.bin');
const PROGRAMS = [
  'src/tsconfig.pure.json',
  'src/ui/tsconfig.json',
  'src/cli/tsconfig.json',
  'tests/tsconfig.json',
];

const parts = [
  { name: 'format', run: () => command('biome', ['format', '.']) },
  { name: 'lint', run: () => command('biome', ['lint', '--error-on-warnings', '.']) },
  { name: 'types', run: () => allOf(PROGRAMS.map((program) => ['tsc', ['--noEmit', '-p', program]])) },
  { name: 'import rules', run: () => vitest('rules') },
  { name: 'unit tests', run: async () => ((await commandLineFolder()) ? vitest('unit') : false) },
  { name: 'oracle tests', run: () => vitest('oracle') },
  { name: 'browser tests', run: () => browserTests() },
];

const counted = { passed: 0, failed: 0 };
const seconds = [];
rmSync(RESULTS, { recursive: true, force: true });
mkdirSync(RESULTS, { recursive: true });

let failedPart = null;
for (const part of parts) {
  console.log(`\n== ${part.name}`);
  const began = performance.now();
  const ok = await part.run();
  seconds.push(`${part.name} ${((performance.now() - began) / 1000).toFixed(1)} s`);
  if (!ok) {
    failedPart = part.name;
    break;
  }
}

console.log(`\n${seconds.join(' · ')}`);
if (failedPart !== null) console.log(`stopped at: ${failedPart}`);
if (failedPart !== null && counted.failed === 0) counted.failed = 1;
console.log(`${counted.passed} passed, ${counted.failed} failed`);
process.exitCode = failedPart === null ? 0 : 1;

async function allOf(commands) {
  for (const [name, args] of commands) if (!(await command(name, args))) return false;
  return true;
}

function command(name, args, env = {}) {
  return new Promise((resolve) => {
    const child = spawn(join(BIN, name), args, {
      cwd: PROJECT_ROOT,
      stdio: 'inherit',
      env: { ...process.env, ...env },
    });
    child.on('error', () => resolve(false));
    child.on('close', (code) => resolve(code === 0));
  });
}

async function vitest(project) {
  const file = join(RESULTS, `${project}.json`);
  const ok = await command('vitest', [
    'run',
    '--project',
    project,
    '--reporter=dot',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ]);
  const result = readResult(file);
  return count(result?.numPassedTests ?? 0, result?.numFailedTests ?? 0, project) && ok;
}

async function browserTests() {
  const browser = await findBrowser();
  if (browser.path === null) {
    console.error(browser.howToGetOne);
    return false;
  }
  console.log(`browser: ${browser.version} (${browser.origin})`);
  await appFolder();
  const file = join(RESULTS, 'browser.json');
  const ok = await command(
    'playwright',
    ['test', '-c', 'tests/browser/playwright.config.ts', '--reporter=list,json'],
    {
      STRIPVERDICT_CHROMIUM: browser.path,
      PLAYWRIGHT_JSON_OUTPUT_FILE: file,
    },
  );
  const stats = readResult(file)?.stats;
  return count(stats?.expected ?? 0, (stats?.unexpected ?? 0) + (stats?.flaky ?? 0), 'browser') && ok;
}

/** A part that ran no test has failed: nothing passes by not running. */
function count(passed, failed, name) {
  counted.passed += passed;
  counted.failed += failed;
  if (passed + failed === 0) console.error(`${name}: no test was run`);
  return failed === 0 && passed > 0;
}

function readResult(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return null;
  }
}
