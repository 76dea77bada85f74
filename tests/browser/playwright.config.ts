import { existsSync, readdirSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';
import sparticuz from '@sparticuz/chromium';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

// The first process to read this file finds a port; its children read it again and must come to the same one.
process.env.STRIPVERDICT_TEST_PORT ??= String(await freePort());
const address = `http://127.0.0.1:${process.env.STRIPVERDICT_TEST_PORT}`;

const build = isBuildFresh() ? '' : 'npx vite build && ';
const serve = `npx vite preview --outDir dist/app --host 127.0.0.1 --port ${process.env.STRIPVERDICT_TEST_PORT} --strictPort`;

export default defineConfig({
  testDir: '.',
  outputDir: join(ROOT, 'dist/browser-tests'),
  timeout: 60_000,
  expect: { timeout: 20_000 },
  workers: 1,
  reporter: 'list',
  webServer: { command: build + serve, cwd: ROOT, url: address, timeout: 120_000 },
  use: {
    baseURL: address,
    viewport: { width: 1440, height: 900 },
    launchOptions: {
      executablePath: await browserPath(),
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});

/** A build older than what it was made from would be tested in vain. */
function isBuildFresh(): boolean {
  const built = join(ROOT, 'dist/app/index.html');
  if (!existsSync(built)) return false;
  const sources = ['src', 'analyses', 'fixtures/demo', 'index.html', 'vite.config.ts'];
  return Math.max(...sources.map((name) => newestChange(join(ROOT, name)))) < statSync(built).mtimeMs;
}

function newestChange(path: string): number {
  const entry = statSync(path);
  if (!entry.isDirectory()) return entry.mtimeMs;
  return Math.max(...readdirSync(path).map((name) => newestChange(join(path, name))), 0);
}

async function browserPath(): Promise<string> {
  const named = process.env.STRIPVERDICT_CHROMIUM;
  if (named !== undefined && named !== '') return named;
  return existsSync('/usr/bin/chromium') ? '/usr/bin/chromium' : sparticuz.executablePath();
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const found = probe.address();
      probe.close(() => {
        if (found !== null && typeof found === 'object') resolve(found.port);
        else reject(new Error('no free port found'));
      });
    });
  });
}
