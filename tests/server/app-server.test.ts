import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { fileFor, type RunningServer, serveApp } from '../../src/server/app-server.ts';

const folder = join(mkdtempSync(join(tmpdir(), 'stripverdict-')), 'app');
mkdirSync(folder);
writeFileSync(join(folder, 'index.html'), '<!doctype html><title>app</title>');
writeFileSync(join(folder, '..', 'secret.txt'), 'secret');

const running: RunningServer[] = [];

async function serve(port: number): Promise<RunningServer> {
  const one = await serveApp(folder, port);
  running.push(one);
  return one;
}

afterEach(() => {
  for (const { server } of running.splice(0)) server.close();
});

describe('the app server', () => {
  it('serves the page with the strict policy (W3C Content Security Policy Level 3)', async () => {
    const { port } = await serve(47_310);
    const response = await fetch(`http://127.0.0.1:${port}/`);
    expect(response.status).toBe(200);
    expect(await response.text()).toContain('<title>app</title>');
    const policy = response.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain('unsafe');
    expect(response.headers.get('content-type')).toContain('text/html');
  });

  it('takes the next free port and says that the wanted one was busy', async () => {
    const first = await serve(47_330);
    const second = await serve(first.port);
    expect(first.wantedPortWasBusy).toBe(false);
    expect(second).toMatchObject({ port: first.port + 1, wantedPortWasBusy: true });
  });

  it.each(['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/%00', '/%zz'])(
    'does not leave its folder: %s',
    (url) => {
      expect(fileFor(folder, url)).toBeNull();
    },
  );

  it('answers 404 and 405 plainly', async () => {
    const { port } = await serve(47_350);
    expect((await fetch(`http://127.0.0.1:${port}/nothing`)).status).toBe(404);
    expect((await fetch(`http://127.0.0.1:${port}/`, { method: 'POST' })).status).toBe(405);
  });
});
