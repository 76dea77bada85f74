import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('a layout is moved by hand over the points, said in the answer, and goes back with undo', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'Where the strips lie' });
  await expect(section).toContainText('Where they were planned.');
  await section.getByText('Move the layout', { exact: true }).click();
  await section.getByLabel('East', { exact: true }).fill('-2.5');
  await section.getByLabel('East', { exact: true }).press('Tab');
  await expect(section).toContainText('By hand, against the plan: 2.5 m west.');
  await answerIsThere(page);
  await expect(section.locator('path.planned').first()).toBeAttached();
  await section.getByLabel('Numbered from the other edge').check();
  await expect(section).toContainText('2.5 m west, numbered from the other edge');
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByText('The strips were not taken as planned').first()).toBeAttached();
  await goToStage(page, 'Layout');
  for (const _ of [1, 2]) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(section).toContainText('Where they were planned.');
});

test('a move is proposed from the passes, shown with what it gains, and taken', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'Where the strips lie' });
  await section.getByText('Move the layout', { exact: true }).click();
  await section.getByLabel('East', { exact: true }).fill('4');
  await section.getByLabel('East', { exact: true }).press('Tab');
  await expect(section.locator('path.planned').first()).toBeAttached();
  await section.getByRole('button', { name: 'Propose a move' }).click();
  await expect(section).toContainText('30 of 37 passes lie whole in one strip, now 4 do');
  await section.getByRole('button', { name: 'Move the layout so' }).click();
  await expect(section).toContainText(/As proposed from the passes, against the plan: 0\.\d+ m/);
});
