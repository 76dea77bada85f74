import { test as unwatched } from '@playwright/test';
import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('work that is stopped brings nothing later; asked again it brings the answer', async ({ page }) => {
  // What asks a worker for the analysis is held back until it has been stopped.
  await page.addInitScript(() => {
    const late: (() => void)[] = [];
    let isHeldBack = true;
    Object.assign(globalThis, {
      release: () => {
        isHeldBack = false;
        for (const post of late) post();
      },
    });
    const { postMessage } = Worker.prototype;
    Worker.prototype.postMessage = function (this: Worker, ...sent: unknown[]) {
      const post = () => Reflect.apply(postMessage, this, sent);
      const { path } = sent[0] as { path?: readonly string[] };
      if (isHeldBack && path?.[0] === 'analyse') late.push(post);
      else post();
    };
  });
  await page.goto('/');
  await page.getByRole('button', { name: 'Fungicide strips' }).click();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(page.locator('.progress-panel', { hasText: 'Stopped' })).toBeVisible();
  await page.evaluate(() => (globalThis as unknown as { release: () => void }).release());
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
