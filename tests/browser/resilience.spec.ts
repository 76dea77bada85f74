import { test as unwatched } from '@playwright/test';
import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('work that is stopped brings nothing later; asked again it brings the answer', async ({ page }) => {
  let release = () => {};
  const gate = new Promise<void>((resolve) => {
    release = resolve;
  });
  let workers = 0;
  // The first worker opens the files; the second, which analyses, is held back until it has been stopped.
  await page.route('**/analysis-worker*', async (route) => {
    workers += 1;
    if (workers === 2) await gate;
    await route.continue().catch(() => undefined);
  });
  await page.goto('/');
  await page.getByRole('button', { name: 'Fungicide strips' }).click();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(page.locator('.progress-panel', { hasText: 'Stopped' })).toBeVisible();
  release();
  await page.waitForTimeout(3000);
  await expect(page.locator('.progress-panel', { hasText: 'Stopped' })).toBeVisible();
  await expect(page.getByRole('article')).toHaveCount(0);
  await page.getByRole('button', { name: 'Work it out' }).click();
  await answerIsThere(page);
  await expect(page.getByRole('article').first()).toBeVisible();
});

test('the chart of points within strips loads on demand, within the policy', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  await page.getByText('Points within each strip, as a chart').click();
  await expect(page.locator('.box-chart svg').first()).toBeVisible();
});

// These two provoke an error on purpose, so the page is not watched for errors.
unwatched('a fault of ours shows what to do and keeps the trial', async ({ page }) => {
  await openDemo(page);
  await page.evaluate(() => {
    setTimeout(() => {
      throw new Error('provoked by a test');
    });
  });
  const panel = page.getByRole('alert').filter({ hasText: 'Something in Stripverdict itself went wrong' });
  await expect(panel).toContainText('provoked by a test');
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save the trial to a file' }).click(),
  ]);
  expect(saved.suggestedFilename()).toMatch(/\.trial\.json$/);
  await panel.getByRole('button', { name: 'Go on without' }).click();
  await expect(panel).toHaveCount(0);
  await expect(page.getByRole('article').first()).toBeVisible();
});

unwatched('a browser that keeps nothing says so, and the work goes on', async ({ page }) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('storage is off', 'SecurityError');
    };
  });
  await openDemo(page);
  await expect(page.getByRole('alert').filter({ hasText: 'does not keep the trial' })).toBeVisible();
  await expect(page.getByRole('article').first()).toBeVisible();
});
