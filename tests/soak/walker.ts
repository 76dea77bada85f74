import type { BrowserContext, Page } from '@playwright/test';
import type { SeededRandom } from '../simulator/seeded-random.ts';

/** One who walks through the app at random, with what was done and what the page complained of. */
export interface Walker {
  readonly context: BrowserContext;
  readonly page: Page;
  readonly address: string;
  readonly random: SeededRandom;
  /** What was done since the trial was opened. */
  readonly walk: string[];
  readonly complaints: string[];
  /** Holds the files that the page was given, under their names, for the command line. */
  readonly folder: string;
  readonly root: string;
}

export class BrokenLaw extends Error {}

export function holds(condition: boolean, law: string): void {
  if (!condition) throw new BrokenLaw(law);
}

export function oneOf<T>(random: SeededRandom, values: readonly T[]): T {
  return values[Math.floor(random.uniform() * values.length)]!;
}

/** No error on the console, no breach of the policy, no exception or rejection that nobody took. */
export function watch(page: Page, complaints: string[]): void {
  page.on('console', (message) => {
    if (message.type() === 'error' || /content.security.policy/i.test(message.text()))
      complaints.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`uncaught: ${error.stack ?? error.message}`));
  page.on('crash', () => complaints.push('the page crashed'));
  page.on('dialog', (dialog) => void dialog.accept());
}

const REST_MS = 400;
const LONGEST_WORK_MS = 120_000;

/** Until the answer to the last edit is there, or the page says why there is none. */
export async function atRest(page: Page): Promise<void> {
  const isQuiet = () =>
    !/being worked out/.test(document.querySelector('nav')?.textContent ?? '') &&
    document.querySelector('.opening') === null;
  // An edit waits a little before its analysis begins.
  for (let quiet = 0; quiet < 2; quiet += 1) {
    await page.waitForTimeout(REST_MS);
    await page.waitForFunction(isQuiet, undefined, { timeout: LONGEST_WORK_MS, polling: 50 });
  }
}

export async function goTo(page: Page, stage: string): Promise<void> {
  await page.locator(`nav a[href="#/${stage}"]`).click();
  await page.locator(`main.stage-${stage} h1`).first().waitFor();
}

/** The text of the file that the page hands over when the button is pressed. */
export async function handedOver(page: Page, button: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download').catch(() => {
      throw new BrokenLaw(`“${button}” handed over nothing`);
    }),
    page.getByRole('button', { name: button, exact: true }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  await download.delete();
  return Buffer.concat(chunks).toString('utf8');
}

export function savedTrial(page: Page): Promise<string> {
  return handedOver(page, 'Save to a file');
}

/** Presses Undo or Redo so many times, or as often as it can be; says how often. */
export async function pressHistory(
  page: Page,
  name: 'Undo' | 'Redo',
  most = Number.POSITIVE_INFINITY,
): Promise<number> {
  const button = page.getByRole('button', { name, exact: true });
  for (let times = 0; times < most; times += 1) {
    // The button is drawn a moment after the edit.
    await page.waitForTimeout(60);
    if (!(await button.isEnabled())) return times;
    await button.click({ timeout: 2000 });
  }
  return most;
}
