import { goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('all cleanings are tried when asked for, and one picture shows whether they decide', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'Does the cleaning decide?' });
  await section.getByRole('button', { name: 'Try all cleanings' }).click();
  await expect(section.locator('.plan-answer')).toContainText(
    /The cleaning (does not decide|has a say): under .*\d+ cleanings/,
  );
  await expect(section.locator('svg')).toBeVisible();
  await section.getByText('One setting changed alone').click();
  await expect(section.getByRole('rowheader', { name: 'lag +2 s' })).toBeVisible();
  await goToStage(page, 'Trial');
  await page.getByLabel('Season').fill('another');
  await page.getByLabel('Season').press('Tab');
  await goToStage(page, 'Harvest');
  await expect(section.getByRole('button', { name: 'Try all cleanings' })).toBeVisible();
});
