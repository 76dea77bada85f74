#!/usr/bin/env node
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PROJECT_ROOT } from '../../src/cli/builds.mjs';
import { buildPrograms } from '../build-program.mjs';

/**
 * Do the tests see faults? Puts one fault at a time into a copy of the project and runs the tests that should fail on
 * it. Ends with 1 where one lives, or where the tests fail without any.
 *
 *   npm run kills [-- part of a file's name]
 */
const COPIED = [
  'src',
  'analyses',
  'fixtures',
  'tests',
  'package.json',
  'tsconfig.json',
  'vite.config.ts',
  'index.html',
];

const asked = process.argv[2] ?? '';
const { mutants } = await buildPrograms('dist/kills', ['tests/kills/mutants.ts']);
const { MUTANTS } = await import(mutants.href);
const chosen = MUTANTS.filter(({ file }) => file.includes(asked));
const copy = mkdtempSync(join(tmpdir(), 'kills-'));
try {
  process.exitCode = (await areAllKilled()) ? 0 : 1;
} finally {
  rmSync(copy, { recursive: true, force: true });
}

async function areAllKilled() {
  for (const name of COPIED) cpSync(join(PROJECT_ROOT, name), join(copy, name), { recursive: true });
  symlinkSync(join(PROJECT_ROOT, 'node_modules'), join(copy, 'node_modules'));
  const all = [...new Set(chosen.flatMap(({ tests }) => tests))];
  if (chosen.length === 0 || !(await testsPass(all))) {
    console.log(chosen.length === 0 ? `no mutant of ${asked}` : 'the tests fail without any mutant');
    return false;
  }
  let living = 0;
  for (const { file, find, replace, fault, tests } of chosen) {
    const path = join(copy, file);
    const source = readFileSync(path, 'utf8');
    writeFileSync(
      path,
      source.replace(find, () => replace),
    );
    const lives = await liveThrough(tests);
    writeFileSync(path, source);
    if (lives) living += 1;
    console.log(`${lives ? 'LIVES ' : 'killed'} ${file}: ${fault}`);
  }
  console.log(`${chosen.length - living} of ${chosen.length} killed`);
  return living === 0;
}

/** One folder after the other: most are killed by the first. */
async function liveThrough(tests) {
  for (const folder of tests) if (!(await testsPass([folder]))) return false;
  return true;
}

function testsPass(tests) {
  const words = [
    'run',
    '--project',
    'unit',
    '--bail=1',
    '--silent',
    '--reporter=json',
    '--outputFile=dist/kills.json',
  ];
  return new Promise((resolve) => {
    const child = spawn(join(copy, 'node_modules/.bin/vitest'), [...words, ...tests], {
      cwd: copy,
      stdio: 'ignore',
    });
    child.once('close', (code) => resolve(code === 0));
  });
}
