import { goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

/** Figures: practice of this project (noncentral t): two treatments, CV 5 %, a difference of 5 % takes 18 blocks. */
test('before the season the Trial page says whether there are enough replicates', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Begin with an empty trial' }).click();
  const section = page.getByRole('region', { name: 'Are there enough replicates?' });
  await expect(section).toContainText('at least two treatments');
  await page.getByRole('button', { name: 'Add a treatment' }).click();
  await page.getByRole('button', { name: 'Add a treatment' }).click();
  for (const [label, value] of [
    ['Expected CV of strips', '5'],
    ['Blocks', '2'],
  ] as const) {
    await section.getByLabel(label, { exact: true }).fill(value);
    await section.getByLabel(label, { exact: true }).press('Tab');
  }
  await expect(section.locator('.plan-answer')).toContainText('Do not lay this trial out as it stands');
  await expect(section).toContainText('nothing short of 82 %');
  await expect(section).toContainText('it takes 18 blocks');
  await expect(section.locator('svg')).toBeVisible();
  await section.getByLabel('Blocks', { exact: true }).fill('18');
  await section.getByLabel('Blocks', { exact: true }).press('Tab');
  await expect(section.locator('.plan-answer')).toContainText(/^Enough: /);
  await section.getByLabel('Blocks', { exact: true }).fill('0');
  await section.getByLabel('Blocks', { exact: true }).press('Tab');
  await expect(section.getByText('the one before it stands')).toBeVisible();
});

test('for a trial that is laid out it takes the blocks that there are', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Trial');
  const section = page.getByRole('region', { name: 'Are there enough replicates?' });
  await expect(section.getByLabel('Blocks', { exact: true })).toHaveValue('6');
  await expect(section).toContainText('by Dunnett, each against the check');
  await expect(section).toContainText(/The strips of this trial came to [\d.]+ %/);
});
