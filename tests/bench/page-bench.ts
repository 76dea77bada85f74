import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { serveApp } from '../../src/server/app-server.ts';

const ASKED_OF_COMMAND_LINE = 2;
const ASKED_TASK_MS = 50;
const ASKED_CANCEL_MS = 200;
const ASKED_REDRAW = 3;
const TIMES = 3;
const LONGEST_MS = 120_000;
const PORT = 47_100;
/** A new window's own bars are still being built by the browser, on the same cores; nobody drops a file so soon. */
const SETTLING_MS = 2000;
/** Files are dropped on the first page, which becomes the Trial page; these show more of them. */
const STAGES_THAT_SHOW_MOST = ['layout', 'harvest', 'answer', 'handout'] as const;

/** What is measured of the page, and with what. */
export interface PageBench {
  readonly folder: string;
  readonly appFolder: string;
  readonly browserPath: string;
  readonly files: readonly string[];
  /** Whole process on the same files, by the clock. */
  readonly commandLineSeconds: number;
}

/** A million points in the page: from drop to answer, what blocks the page meanwhile, stopping, and redrawing. */
export async function benchPage(bench: PageBench): Promise<void> {
  const { server, port } = await serveApp(bench.appFolder, PORT);
  const browser = await chromium.launch({
    executablePath: bench.browserPath,
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-sync'],
  });
  try {
    const address = `http://127.0.0.1:${port}/`;
    await benchLoading(browser, address, bench);
    await benchStopping(browser, address, bench);
    await benchRedraw(browser, bench.folder);
  } finally {
    await browser.close();
    server.close();
  }
}

interface Loaded {
  readonly seconds: number;
  readonly longestTaskMs: number;
}

async function benchLoading(browser: Browser, address: string, bench: PageBench): Promise<void> {
  const loads = await loadTimes(browser, address, bench.files);
  const seconds = Math.min(...loads.map((load) => load.seconds));
  console.log(`\nIn the page, a million points, best of ${TIMES} (${browser.version()})`);
  console.log(
    `  from drop to answer ${(seconds / bench.commandLineSeconds).toFixed(2)} times the command line's whole process by the clock; asked: at most ${ASKED_OF_COMMAND_LINE}`,
  );
  console.log(
    `  longest task of the page's own thread meanwhile: ${longestTasks(loads)} ms; asked: at most ${ASKED_TASK_MS}`,
  );
  for (const stage of STAGES_THAT_SHOW_MOST) {
    const shown = await loadTimes(browser, `${address}#/${stage}`, bench.files);
    console.log(`  the same with the ${stage} page open, which it fills: ${longestTasks(shown)} ms`);
  }
}

async function loadTimes(
  browser: Browser,
  address: string,
  files: readonly string[],
): Promise<readonly Loaded[]> {
  const loads: Loaded[] = [];
  for (let time = 0; time < TIMES; time++) loads.push(await loadOnce(browser, address, files));
  return loads;
}

function longestTasks(loads: readonly Loaded[]): string {
  return loads.map(({ longestTaskMs }) => longestTaskMs.toFixed(0)).join(', ');
}

async function newWatchedPage(browser: Browser, address: string): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.addInitScript(() => {
    const watched = { began: 0, tasks: [] as { at: number; ms: number }[] };
    Object.assign(globalThis, { watched });
    addEventListener(
      'change',
      () => {
        watched.began = performance.now();
      },
      true,
    );
    new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries()) {
        watched.tasks.push({ at: startTime, ms: duration });
      }
    }).observe({ type: 'longtask', buffered: true });
  });
  await page.goto(address);
  // What the driver puts into a page before it first waits or hands over files is no task of the page's.
  await page.locator('input[type=file]').first().setInputFiles([]);
  await page.waitForFunction(() => true);
  await page.waitForTimeout(SETTLING_MS);
  return page;
}

async function loadOnce(browser: Browser, address: string, files: readonly string[]): Promise<Loaded> {
  const page = await newWatchedPage(browser, address);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles([...files]);
  const ended = await page.waitForFunction(
    () => (document.querySelector('nav')?.textContent?.includes('there is one') ? performance.now() : null),
    undefined,
    { timeout: LONGEST_MS, polling: 20 },
  );
  // Tasks are reported a little after they end; the field's picture belongs to the loading too.
  const at = (await ended.jsonValue()) ?? 0;
  await page.waitForTimeout(1500);
  const { began, tasks } = await page.evaluate(
    () =>
      (globalThis as unknown as { watched: { began: number; tasks: { at: number; ms: number }[] } }).watched,
  );
  await page.close();
  const since = tasks.filter((task) => task.at + task.ms >= began);
  return { seconds: (at - began) / 1000, longestTaskMs: Math.max(0, ...since.map(({ ms }) => ms)) };
}

/** From the click on Stop until the page says that it has stopped. */
async function benchStopping(browser: Browser, address: string, { files }: PageBench): Promise<void> {
  const waits: number[] = [];
  for (let time = 0; time < TIMES; time++) {
    const page = await newWatchedPage(browser, address);
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles([...files]);
    const stop = page.getByRole('button', { name: 'Stop', exact: true });
    await stop.waitFor({ timeout: LONGEST_MS });
    waits.push(
      await stop.evaluate(async (button) => {
        const began = performance.now();
        (button as HTMLButtonElement).click();
        while (button.isConnected) await new Promise((resolve) => setTimeout(resolve));
        return performance.now() - began;
      }),
    );
    await page.close();
  }
  const shown = waits.map((ms) => ms.toFixed(0)).join(', ');
  console.log(`  from Stop to stopped: ${shown} ms; asked: at most ${ASKED_CANCEL_MS}`);
}

interface Redraws {
  readonly plainMs: number;
  readonly keptMs: number;
  readonly allMs: number;
  readonly plainMoveMs: number;
  readonly moveMs: number;
  readonly sortMs: number;
}

async function benchRedraw(browser: Browser, folder: string): Promise<void> {
  const page = await browser.newPage();
  const content = readFileSync(join(folder, 'program/redraw-in-page.mjs'), 'utf8');
  await page.addScriptTag({ type: 'module', content });
  const measured = await page.waitForFunction(
    () => (globalThis as unknown as { redraws?: Redraws }).redraws,
    undefined,
    { timeout: LONGEST_MS },
  );
  const { plainMs, keptMs, allMs, ...hover } = (await measured.jsonValue()) as Redraws;
  await page.close();
  console.log(
    `  a full redraw of a million points takes ${(keptMs / plainMs).toFixed(2)} times a plain loop that fills the same image (${(allMs / plainMs).toFixed(2)} with what was set aside); asked: at most ${ASKED_REDRAW}`,
  );
  const { plainMoveMs, moveMs, sortMs } = hover;
  console.log(
    `  a move of the pointer over a million points finds the nearest in ${(plainMoveMs / moveMs).toFixed(0)} times less than a plain loop over them; sorting them for it takes ${(sortMs / plainMoveMs).toFixed(0)} such loops, once, in turns`,
  );
}
