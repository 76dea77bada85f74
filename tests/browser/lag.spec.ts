import { dropFiles, ownLayout, ownPoints } from './own-files.ts';
import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

const LATE_S = 5;

test('the lag is estimated when asked for, and set by the user alone', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownPoints(LATE_S)]);
  await answerIsThere(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'From the header to the sensor' });
  await expect(section).toContainText('Nothing is shifted now');
  // Asked right after an edit, it waits for the answer to that edit and is not ended by it.
  await page.getByLabel('Were points filtered before?').selectOption('No');
  await section.getByRole('button', { name: 'Estimate it from the points' }).click();
  await expect(section.locator('svg')).toBeVisible();
  await expect(section).toContainText('Nothing is shifted now');
  const set = section.getByRole('button', { name: /^Shift the flow back by/ });
  const proposed = Number(/by (-?[\d.]+) s/.exec((await set.textContent()) ?? '')?.[1]);
  expect(Math.abs(proposed - LATE_S)).toBeLessThanOrEqual(1);
  await set.click();
  await expect(section).toContainText(`Flow is shifted back by ${proposed} s now`);
  await expect(section).toContainText('This shift is set.');
  await expect(page.getByRole('button', { name: 'Undo' })).toHaveAttribute('title', /cleaning settings/);
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByText('the shift of the flow (s): was').first()).toBeVisible();
});

test('where the points cannot tell the lag, it says so and offers no shift', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'From the header to the sensor' });
  await section.getByRole('button', { name: 'Estimate it from the points' }).click();
  await expect(section).toContainText('Flow: cannot tell');
  await expect(section.getByRole('button', { name: /^Shift/ })).toHaveCount(0);
});
