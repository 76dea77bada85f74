import type { Page } from '@playwright/test';
import { answerIsThere, STAGE_NAMES } from './stages.ts';
import { expect, test } from './watched-page.ts';

const MOST_TABS = 60;

async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let tabs = 0; tabs < MOST_TABS; tabs += 1) {
    const label = await page.evaluate(() => {
      const focused = document.activeElement;
      return focused?.getAttribute('aria-label') ?? focused?.textContent?.trim() ?? '';
    });
    if (name.test(label)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no stop of the Tab key is called ${name}`);
}

test('the keyboard alone goes from the first page through every stage', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('button', { name: 'Fungicide strips' })).toBeVisible();
  await tabTo(page, /^Fungicide strips$/);
  await page.keyboard.press('Enter');
  await answerIsThere(page);
  for (const name of STAGE_NAMES) {
    await page.reload();
    await answerIsThere(page);
    await tabTo(page, new RegExp(`^${name}\\s`));
    await page.keyboard.press('Enter');
    await expect(page.getByRole('heading', { level: 1, name, exact: true })).toBeVisible();
    await expect(page.locator('main')).toBeFocused();
  }
});

test('the first stop of the Tab key skips to the content', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await page.keyboard.press('Tab');
  await expect(page.getByText('Go to the content')).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(page.locator('main')).toBeFocused();
});

test('what has the focus can be seen', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('button', { name: 'Fungicide strips' })).toBeVisible();
  await tabTo(page, /^Fungicide strips$/);
  const width = await page.evaluate(() => getComputedStyle(document.activeElement as Element).outlineWidth);
  expect(Number.parseFloat(width)).toBeGreaterThanOrEqual(2);
});
