import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('undo takes an edit back, redo does it again', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Trial');
  const name = page.getByLabel('Name of the trial');
  const before = await name.inputValue();
  await name.fill('Another name');
  await name.press('Tab');
  await expect(page.locator('.trial-name')).toHaveText('Another name');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(name).toHaveValue(before);
  await page.getByRole('button', { name: 'Redo' }).click();
  await expect(name).toHaveValue('Another name');
  await page.getByRole('heading', { level: 1 }).click();
  await page.keyboard.press('Control+z');
  await expect(name).toHaveValue(before);

  // Undone before the edit was kept in the browser: what is kept is the trial as it stands.
  await expect(page.locator('.kept-state')).toHaveText('kept in this browser');
  await name.fill('Not for long');
  await name.press('Tab');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.locator('.kept-state')).toHaveText('kept in this browser');
  await page.reload();
  await expect(name).toHaveValue(before);
});

test('a setting moved after the harvest was seen is said in the answer, also after undo and redo', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Trial');
  await page.getByLabel('Significance level').fill('0.2');
  await page.getByLabel('Significance level').press('Tab');
  await goToStage(page, 'Answer');
  await expect(page.getByText('the significance level: was').first()).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('heading', { name: 'Changed after the harvest was seen' })).toHaveCount(0);
  await page.getByRole('button', { name: 'Redo' }).click();
  await expect(page.getByRole('heading', { name: 'Changed after the harvest was seen' })).toBeVisible();
});

test('a figure that is no number stays in its field with a sentence; the trial keeps the old one', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Trial');
  const price = page.getByLabel('Price of the grain');
  await price.fill('cheap');
  await price.press('Tab');
  await expect(page.getByText('“cheap” is not a number')).toBeVisible();
  await expect(price).toHaveAttribute('aria-invalid', 'true');
  await answerIsThere(page);
});

test('what was entered comes back after the page is loaded again', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Trial');
  await page.getByLabel('Season').fill('kept season');
  await page.getByLabel('Season').press('Tab');
  await expect(page.locator('.kept-state')).toHaveText('kept in this browser');
  await page.reload();
  await expect(page.getByLabel('Season')).toHaveValue('kept season');
  await answerIsThere(page);
});

test('closing keeps the trial on the first page, and forgetting removes it', async ({ page }) => {
  await openDemo(page);
  await expect(page.locator('.kept-state')).toHaveText('kept in this browser');
  await page.getByRole('button', { name: 'Close' }).click();
  const kept = page.getByRole('region', { name: 'Kept in this browser' });
  await expect(kept.getByRole('listitem')).toHaveCount(1);
  page.once('dialog', (dialog) => void dialog.accept());
  await kept.getByRole('button', { name: /^Forget/ }).click();
  await expect(kept).toHaveCount(0);
});

test('an edit of the price sends no file to the worker again', async ({ page }) => {
  await page.addInitScript(() => {
    const post = Worker.prototype.postMessage;
    const counted = globalThis as unknown as { filesSent: number };
    counted.filesSent = 0;
    Worker.prototype.postMessage = function (this: Worker, message: unknown, ...rest: []) {
      const values = (message as { argumentList?: { value?: unknown }[] }).argumentList ?? [];
      for (const { value } of values) {
        if (Array.isArray(value))
          counted.filesSent += value.filter(({ bytes }) => bytes !== undefined).length;
      }
      post.call(this, message, ...rest);
    };
  });
  const filesSent = () => page.evaluate(() => (globalThis as unknown as { filesSent: number }).filesSent);
  await openDemo(page);
  const before = await filesSent();
  expect(before, 'the files must have been sent once').toBeGreaterThan(1);
  const money = page.locator('.answer-sentence').first();
  const said = (await money.textContent()) ?? '';
  await goToStage(page, 'Trial');
  await page.getByLabel('Price of the grain').fill('950');
  await page.getByLabel('Price of the grain').press('Tab');
  await goToStage(page, 'Answer');
  await expect(money).not.toHaveText(said);
  await answerIsThere(page);
  expect(await filesSent()).toBe(before);
});
