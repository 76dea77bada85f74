import { expect, type Page } from '@playwright/test';

export const STAGE_NAMES = ['Trial', 'Layout', 'Harvest', 'Answer', 'Handout'] as const;
export type StageName = (typeof STAGE_NAMES)[number];

export async function goToStage(page: Page, name: StageName): Promise<void> {
  await page
    .getByRole('navigation', { name: 'Stages' })
    .getByRole('link', { name: new RegExp(`^${name}`) })
    .click();
  await expect(page.getByRole('heading', { level: 1, name, exact: true })).toBeVisible();
}

/** Opens the demo with the yield-monitor file and waits for its answer. */
export async function openDemo(page: Page, title = 'Fungicide strips'): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: title }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Answer' })).toBeVisible();
  await answerIsThere(page);
}

export async function answerIsThere(page: Page): Promise<void> {
  const answerLink = page.getByRole('navigation', { name: 'Stages' }).getByRole('link', { name: /^Answer/ });
  await expect(answerLink).toContainText('there is one', { timeout: 45_000 });
}

/** The text of a file that the page hands over when `act` is done. */
export async function downloadedText(page: Page, act: () => Promise<void>): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), act()]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks).toString('utf8');
}
