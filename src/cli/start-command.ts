import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serveApp } from '../server/app-server.ts';
import { runAnswer } from './answer-command.ts';
import { EXIT } from './exit-codes.ts';
import type { LaunchContext } from './main.ts';

const USUAL_PORT = 4173;
const DEMO_TRIAL = 'fixtures/demo/fungicide-strips/trial.json';

/** `stripverdict start`: prints the demo's answer, then serves the app until it is stopped. */
export async function runStart(words: readonly string[], context: LaunchContext): Promise<number> {
  const unknown = words.find((word) => word !== '--no-serve');
  if (unknown !== undefined) {
    process.stderr.write(`stripverdict: start takes --no-serve alone, not "${unknown}"\n`);
    return EXIT.badInput;
  }
  const port = wantedPort();
  if (port === null) {
    process.stderr.write(`stripverdict: PORT is "${process.env.PORT}", set it to a number from 1 to 65535\n`);
    return EXIT.badInput;
  }
  const code = await runAnswer([join(projectRoot(), DEMO_TRIAL)]);
  if (code !== EXIT.analysed || words.includes('--no-serve')) return code;
  return serve(await context.appFolder(), port);
}

async function serve(folder: string, wanted: number): Promise<number> {
  const { server, port, wantedPortWasBusy } = await serveApp(folder, wanted);
  if (wantedPortWasBusy)
    process.stdout.write(`Port ${wanted} is taken by another program; ${port} is free.\n`);
  process.stdout.write(`Stripverdict is at http://localhost:${port}/ (Ctrl+C stops it)\n`);
  return new Promise((resolve) => {
    const stop = () => server.close(() => resolve(EXIT.analysed));
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
  });
}

function wantedPort(): number | null {
  const text = process.env.PORT;
  if (text === undefined || text.trim() === '') return USUAL_PORT;
  const port = Number(text);
  return Number.isInteger(port) && port >= 1 && port <= 65_535 ? port : null;
}

/** This file runs from dist/cli/<hash>/, three folders below the project's own. */
function projectRoot(): string {
  return fileURLToPath(new URL('../../..', import.meta.url));
}
