import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium } from '@playwright/test';
import { serveApp } from '../../src/server/app-server.ts';
import { writeLargeHarvest } from '../bench/large-harvest.ts';
import { ownLayout, ownPoints } from '../browser/own-files.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { actOnce } from './actions.ts';
import { type Held, heldNow, holdsNoMore } from './growth.ts';
import { nothingAfterStop, sameAnswerAsCommandLine, undoneIsAsBegun } from './laws.ts';
import { atRest, holds, oneOf, savedTrial, type Walker, watch } from './walker.ts';

export interface SoakPlace {
  readonly minutes: number;
  readonly seed: number;
  readonly browserPath: string;
  readonly appFolder: string;
  readonly root: string;
}

const PORT = 47_300;
const STEPS_A_BATCH = 10;
const BATCHES_A_TRIAL = 2;
const ARGS = ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-sync'];

/** true where every law held until the time was up. */
export async function runSoak(place: SoakPlace): Promise<boolean> {
  const { server, port } = await serveApp(place.appFolder, PORT);
  const folder = mkdtempSync(join(tmpdir(), 'soak-'));
  const browser = await chromium.launch({ executablePath: place.browserPath, args: ARGS });
  console.log(`soak: ${place.minutes} minutes from seed ${place.seed}`);
  const walker = await walkerIn(browser, `http://127.0.0.1:${port}/`, folder, place);
  try {
    await walkUntil(walker, performance.now() + place.minutes * 60_000);
    console.log('every law held');
    return true;
  } catch (error) {
    console.log(`BROKEN: ${error instanceof Error ? error.message : String(error)}`);
    console.log(`seed ${place.seed}; what was done with this trial:\n  ${walker.walk.join('\n  ')}`);
    const path = join(place.root, 'dist/soak/broken.png');
    await walker.page.screenshot({ path, fullPage: true }).catch(() => undefined);
    console.log(`the page as it stands: ${path}`);
    return false;
  } finally {
    await browser.close();
    server.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function walkerIn(
  browser: Browser,
  address: string,
  folder: string,
  place: SoakPlace,
): Promise<Walker> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const complaints: string[] = [];
  watch(page, complaints);
  await page.goto(address);
  const random = seededRandom(place.seed);
  return { context, page, address, random, walk: [], complaints, folder, root: place.root };
}

async function walkUntil(walker: Walker, end: number): Promise<void> {
  const cdp = await walker.context.newCDPSession(walker.page);
  const held: Held[] = [];
  writeLargeHarvest(walker.folder);
  for (let trial = 0; performance.now() < end; trial += 1) {
    walker.walk.length = 0;
    if (walker.random.chance(0.2)) await stopRound(walker);
    else await trialRound(walker);
    await backToTheStart(walker);
    const loadedAt = await walker.page.evaluate(() => performance.timeOrigin);
    held.push(await heldNow(cdp, loadedAt, walker.page.workers().length));
    const { heapBytes, nodes, listeners, workers } = held.at(-1)!;
    console.log(
      `trial ${trial + 1}: ${walker.walk.length} steps; heap ${(heapBytes / 1e6).toFixed(1)} MB, ${nodes} nodes, ${listeners} listeners, ${workers} workers`,
    );
  }
  holdsNoMore(held);
}

/** One trial from opening to closing: batches of steps, and after each the laws. */
async function trialRound(walker: Walker): Promise<void> {
  await openSomeTrial(walker);
  for (let batch = 0; batch < BATCHES_A_TRIAL; batch += 1) {
    const begun = await savedTrial(walker.page);
    for (let step = 0; step < STEPS_A_BATCH; step += 1) {
      await actOnce(walker);
      quiet(walker);
    }
    await sameAnswerAsCommandLine(walker);
    await undoneIsAsBegun(walker, begun);
    await goOnElsewhere(walker, begun);
    quiet(walker);
  }
}

const DEMOS = {
  'Fungicide strips': 'fungicide-strips',
  'Seed dressing pairs': 'seed-dressing-pairs',
} as const;

async function openSomeTrial(walker: Walker): Promise<void> {
  const { page, random, walk } = walker;
  const which = oneOf(random, [
    'Fungicide strips',
    'Fungicide strips',
    'Seed dressing pairs',
    'own files',
  ] as const);
  layOutFiles(walker, which === 'own files' ? null : DEMOS[which]);
  if (which === 'own files') {
    const names = [ownLayout().name, ownPoints(4).name];
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles(names.map((name) => join(walker.folder, name)));
  } else await page.getByRole('button', { name: which }).click();
  walk.push(`open ${which}`);
  await page.locator('nav').waitFor();
  await atRest(page);
}

/** The same files for page and command line, under the same names; and a harvest of another day. */
function layOutFiles({ folder, root }: Walker, demo: string | null): void {
  for (const { name, text } of [ownLayout(), ownPoints(4)]) writeFileSync(join(folder, name), text);
  const fungicide = join(root, 'fixtures/demo/fungicide-strips');
  for (const name of ['layout.geojson', 'harvest.csv'])
    copyFileSync(join(fungicide, name), join(folder, name));
  const [head, ...rows] = readFileSync(join(fungicide, 'harvest.csv'), 'utf8').trimEnd().split('\n');
  writeFileSync(join(folder, 'harvest-2.csv'), [head, ...rows.filter((_, k) => k % 3 === 0), ''].join('\n'));
  if (demo === 'seed-dressing-pairs')
    copyFileSync(join(root, `fixtures/demo/${demo}/weights.csv`), join(folder, 'weights.csv'));
}

/** Law: a trial that is closed and opened again, loaded anew, or edited in another tab, is the one that was kept. */
async function goOnElsewhere(walker: Walker, begun: string): Promise<void> {
  const { page, random, walk } = walker;
  await page.locator('.kept-state', { hasText: 'kept in this browser' }).waitFor();
  // Loading lets go of all that leaked, so it comes seldom enough for a leak to show.
  const way = random.chance(0.05) ? 'load' : oneOf(random, ['close', 'other tab', 'stay'] as const);
  walk.push(way);
  if (way === 'stay') return;
  if (way === 'other tab') {
    await editInAnotherTab(walker);
    return;
  }
  if (way === 'load') await page.reload();
  else {
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await page.locator('.kept-list button').first().click();
  }
  await page.locator('nav').waitFor();
  await atRest(page);
  holds((await savedTrial(page)) === begun, `after “${way}” the trial is not the one that was kept`);
}

async function editInAnotherTab({ context, page, address, complaints, random }: Walker): Promise<void> {
  const other = await context.newPage();
  watch(other, complaints);
  await other.goto(address);
  await other.locator('.kept-list button').first().click();
  await other.locator('nav a[href="#/trial"]').click();
  const season = other.getByLabel('Season');
  await season.fill(`of another tab ${Math.floor(random.uniform() * 1e6)}`);
  await season.press('Tab');
  await other.locator('.kept-state', { hasText: 'kept in this browser' }).waitFor();
  const there = await savedTrial(other);
  await other.close();
  await page.getByRole('button', { name: 'Take what the other tab has' }).click();
  await atRest(page);
  holds((await savedTrial(page)) === there, 'what another tab kept is not what this one took');
}

/** A million points that are stopped on their way. */
async function stopRound(walker: Walker): Promise<void> {
  const { page, folder, random, walk } = walker;
  walk.push('open a million points');
  const names = ['layout-1.geojson', 'harvest-1.csv'];
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles(names.map((name) => join(folder, name)));
  await page.waitForTimeout(random.between(0, 2500));
  await nothingAfterStop(walker);
  quiet(walker);
}

/** Closed, and nothing kept: the place at which what the page holds is weighed. */
async function backToTheStart({ page }: Walker): Promise<void> {
  await atRest(page);
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await page.locator('sv-start-page h1').waitFor();
  const forget = page.getByRole('button', { name: /^Forget/ });
  await page.waitForTimeout(500);
  for (let left = await forget.count(); left > 0; left -= 1) {
    await forget.first().click();
    await page.waitForTimeout(200);
  }
  // The first page is the Trial page's, so that the next trial begins there.
  await page.evaluate(() => {
    location.hash = '#/trial';
  });
  await page.waitForTimeout(500);
}

function quiet({ complaints }: Walker): void {
  holds(complaints.length === 0, `the page complained: ${complaints.join('; ')}`);
}
