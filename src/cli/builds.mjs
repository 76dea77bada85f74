import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * Builds the command line and the app when their sources have changed since the last build, so that both always
 * run the sources as they are. Plain JavaScript, since this is what runs before anything is built.
 */
export const PROJECT_ROOT = fileURLToPath(new URL('../..', import.meta.url));

const SOURCES = [
  'src',
  'analyses',
  'fixtures/demo',
  'index.html',
  'vite.config.ts',
  'package.json',
  'package-lock.json',
];
const ONE_HOUR_MS = 3_600_000;

/** The folder that holds the command line's build of exactly these sources. */
export async function commandLineFolder() {
  const folder = join(PROJECT_ROOT, 'dist/cli', sourcesMark());
  if (!existsSync(join(folder, 'main.mjs'))) await buildInto(folder, 'cli', 'the command line');
  return folder;
}

/** The folder that holds the app's build of exactly these sources. */
export async function appFolder() {
  const folder = join(PROJECT_ROOT, 'dist/app');
  const stamp = join(PROJECT_ROOT, 'dist/app.sources');
  const hash = sourcesMark();
  const isFresh =
    existsSync(stamp) && readFileSync(stamp, 'utf8') === hash && existsSync(join(folder, 'index.html'));
  if (isFresh) return folder;
  rmSync(folder, { recursive: true, force: true });
  await buildInto(folder, 'production', 'the app');
  writeFileSync(stamp, hash);
  return folder;
}

/** Builds beside the target and moves the whole into place, so that two processes can build at once. */
async function buildInto(folder, mode, what) {
  const { build } = await import('vite');
  console.error(`stripverdict: building ${what} ...`);
  const unfinished = `${folder}.${process.pid}.unfinished`;
  mkdirSync(join(folder, '..'), { recursive: true });
  await build({
    root: PROJECT_ROOT,
    configFile: join(PROJECT_ROOT, 'vite.config.ts'),
    mode,
    logLevel: 'error',
    build: { outDir: relative(PROJECT_ROOT, unfinished), emptyOutDir: true },
  });
  moveIntoPlace(unfinished, folder);
  if (mode === 'cli') removeOlderBuilds(folder);
}

function moveIntoPlace(unfinished, folder) {
  try {
    renameSync(unfinished, folder);
  } catch (error) {
    rmSync(unfinished, { recursive: true, force: true });
    if (!existsSync(folder)) throw error;
  }
}

function removeOlderBuilds(current) {
  const parent = join(current, '..');
  for (const name of readdirSync(parent)) {
    const path = join(parent, name);
    if (path !== current && Date.now() - statSync(path).mtimeMs > ONE_HOUR_MS) {
      rmSync(path, { recursive: true, force: true });
    }
  }
}

/** By name, size and time of change of every source: reading them all would take as long as starting. */
function sourcesMark() {
  const hash = createHash('sha256');
  for (const path of SOURCES.flatMap((name) => filesBelow(join(PROJECT_ROOT, name))).sort()) {
    const { size, mtimeNs } = statSync(path, { bigint: true });
    hash.update(`${relative(PROJECT_ROOT, path)}\0${size}\0${mtimeNs}\0`);
  }
  return hash.digest('hex').slice(0, 16);
}

function filesBelow(path) {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { withFileTypes: true }).flatMap((entry) => {
    const below = join(path, entry.name);
    return entry.isDirectory() ? filesBelow(below) : [below];
  });
}
