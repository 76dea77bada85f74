import { answerIsThere, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('an area is left out in numbers or on the field, and comes back with undo', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'Areas left out' });
  await section.getByText('Leave out an area').click();
  await section.getByLabel('From', { exact: true }).fill('100');
  await section.getByLabel('To', { exact: true }).fill('140');
  await section.getByLabel('To', { exact: true }).press('Tab');
  await section.getByRole('button', { name: 'Leave out this stretch' }).click();
  await expect(section.getByRole('listitem')).toHaveText(/Wet hole, cut from\s+every strip of the block/);
  await expect(page.locator('path.area-left-out')).toHaveCount(1);
  await answerIsThere(page);
  await expect(
    page.getByText('in an area left out, cut from every strip of the block').first(),
  ).toBeAttached();

  await section.getByRole('button', { name: 'Draw on the field above' }).click();
  const frame = page.locator('.field-frame');
  for (const [x, y] of [
    [200, 120],
    [260, 120],
    [230, 170],
  ] as const)
    await frame.click({ position: { x, y } });
  await expect(section).toContainText('Corners so far: 3');
  await section.getByRole('button', { name: 'Leave it out' }).click();
  await expect(page.locator('.areas li')).toHaveCount(2);
  // Drawn beside the field, it cuts nothing, and the page says so.
  await expect(section).toContainText('lies over no strip');
  for (const left of [1, 0]) {
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(page.locator('.areas li')).toHaveCount(left);
  }
});

test('while an area is drawn Enter takes it, Escape stops, and an outline that crosses itself is refused', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'Areas left out' });
  const frame = page.locator('.field-frame');
  const draw = async (corners: readonly (readonly [number, number])[]) => {
    await section.getByRole('button', { name: 'Draw on the field above' }).click();
    for (const [x, y] of corners) await frame.click({ position: { x, y } });
    await expect(section).toContainText(`Corners so far: ${corners.length}`);
  };
  await section.getByText('Leave out an area').click();
  await draw([
    [300, 100],
    [360, 160],
    [360, 100],
    [300, 160],
  ]);
  await frame.press('Enter');
  await expect(section).toContainText('The outline crosses itself');
  await expect(section.getByRole('listitem')).toHaveCount(0);
  await frame.press('Escape');
  await expect(section).not.toContainText('Corners so far');
  await draw([
    [300, 100],
    [360, 100],
  ]);
  await frame.press('Enter');
  await expect(section).toContainText('at least 3 corners');
  await frame.click({ position: { x: 330, y: 160 } });
  await frame.press('Enter');
  await expect(section.getByRole('listitem')).toHaveCount(1);
});
