import { dropFiles, ownPoints } from './own-files.ts';
import { answerIsThere, goToStage } from './stages.ts';
import { expect, test } from './watched-page.ts';

const ORDER = [
  'Untreated, Test product',
  'Test product, Untreated',
  'Untreated, Test product',
  'Untreated, Test product',
  'Test product, Untreated',
].join('\n');

test('a layout is drawn up from one edge line over the points, and answers', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownPoints(0)]);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'No file of the layout?' });
  await section.getByText('Draw it up from one edge line').click();
  await section.getByRole('button', { name: 'Show the points to draw on' }).click();
  await expect(section.locator('.field-legend')).toContainText('not judged yet');
  await expect(section.locator('.field-legend')).not.toContainText('set aside');
  const frame = section.locator('.field-frame');
  await frame.focus();
  await page.keyboard.press('ArrowRight');
  await expect(section.locator('.point-facts')).toContainText(/Width cut\s*9\.00 m/);
  await expect(section.locator('.point-facts')).toContainText(/Time.*\d:\d\d:\d\d from the start/);
  await section.getByRole('button', { name: 'Draw the line on the field below' }).click();
  await frame.click({ position: { x: 250, y: 300 } });
  await frame.click({ position: { x: 250, y: 60 } });
  await expect(section.getByLabel('End, latitude')).toHaveValue(/^48\.20\d+$/);

  const line = { 'Start, longitude': '9.5', 'Start, latitude': '48.2', 'End, longitude': '9.5' };
  for (const [label, degrees] of Object.entries(line)) await section.getByLabel(label).fill(degrees);
  await section.getByLabel('End, latitude').fill(String(48.2 + 300 / 111_200));
  await section.getByLabel('Width of a strip').fill('12');
  await section.getByLabel(/^From the line on/).fill(ORDER);
  await section.getByLabel(/^From the line on/).press('Tab');
  await expect(section).toContainText(
    /10 strips in 5 blocks, 120.0 m across and (299|300)\.\d m long: 3\.60 ha/,
  );
  await expect(section).toContainText('added with the strips: Untreated and Test product');
  await section.getByRole('button', { name: 'Take the drawn strips' }).click();
  await expect(page.getByRole('region', { name: 'Strips' }).getByRole('row')).toHaveCount(11);
  await answerIsThere(page);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(section).toBeVisible();
});
