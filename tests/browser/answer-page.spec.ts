import { openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('the answer comes first; all that stands behind it opens on demand', async ({ page }) => {
  await openDemo(page);
  const first = await page.locator('.answer-sentence').first().boundingBox();
  expect(first?.y ?? 9999, 'the first answer must stand in sight without scrolling').toBeLessThan(600);
  const opened = await page.locator('main details[open]').count();
  expect(opened, 'nothing opens by itself').toBe(0);

  await page.getByText('Comparisons by every procedure').click();
  const comparisons = page.getByRole('region', { name: 'Comparisons', exact: true });
  await expect(comparisons.getByRole('row', { name: /Dunnett ?, decides/ })).toHaveCount(4);
  await expect(comparisons.getByRole('row', { name: /Tukey/ }).first()).toBeVisible();

  await page.getByText(/^Checks of what the analysis takes for granted/).click();
  await expect(page.locator('.checks .what-to-do').first()).toBeVisible();
  await page.getByText(/^Do other methods agree\?/).click();
  await expect(page.getByText(/The smallest p that this design can give here is/).first()).toBeVisible();
  await page.getByText(/^Without one block/).click();
  await expect(page.getByRole('region', { name: 'Without one block' })).toContainText('the same');
  await page.getByText('How likely is each treatment the best').click();
  await expect(page.getByRole('region', { name: 'Chances of the comparisons' })).toContainText('%');
  await page.getByText('How far is the best of several flattered?').click();
  await expect(page.getByText(/came out best of 4/)).toBeVisible();
  await page.getByText('What could this trial have found?').click();
  await expect(page.getByText(/would be found in/).last()).toBeVisible();
});
