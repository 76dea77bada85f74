import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/**
 * Finds a Chromium for the browser tests: the one named in STRIPVERDICT_CHROMIUM, an installed one, the one that
 * comes inside an npm package, or Debian's own where apt may install it. Never skips: without a browser the answer
 * says how to get one.
 */
const INSTALLED = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];

const HOW_TO_GET_ONE = [
  'No Chromium was found for the browser tests. Any of these helps:',
  '  apt-get install chromium        (Debian, as root)',
  '  STRIPVERDICT_CHROMIUM=/path/to/chromium npm test',
].join('\n');

export async function findBrowser() {
  const named = process.env.STRIPVERDICT_CHROMIUM;
  if (named !== undefined) return described(named, 'STRIPVERDICT_CHROMIUM') ?? missing();
  for (const path of INSTALLED) {
    const found = described(path, 'installed');
    if (found !== null) return found;
  }
  return (await unpacked()) ?? installedByApt() ?? missing();
}

async function unpacked() {
  try {
    const { default: chromium } = await import('@sparticuz/chromium');
    return described(await chromium.executablePath(), 'unpacked from its npm package');
  } catch {
    return null;
  }
}

function installedByApt() {
  if (process.getuid?.() !== 0) return null;
  console.error('Installing Debian chromium for the browser tests ...');
  spawnSync('apt-get', ['update', '-qq'], { stdio: ['ignore', 'ignore', 'inherit'] });
  spawnSync('apt-get', ['install', '-y', '-qq', 'chromium'], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  return described('/usr/bin/chromium', 'installed by apt-get just now');
}

/** null unless the program is there and answers. */
function described(path, origin) {
  if (!existsSync(path)) return null;
  try {
    const version = execFileSync(path, ['--version', '--no-sandbox'], { encoding: 'utf8' }).trim();
    return { path, version, origin };
  } catch {
    return null;
  }
}

function missing() {
  return { path: null, howToGetOne: HOW_TO_GET_ONE };
}
