import type { Locator } from '@playwright/test';
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

  // With the pointer: a drag of the strips, then of the handle, one step to undo each.
  await section.getByText('Move the layout', { exact: true }).click();
  await section.getByRole('button', { name: 'Move it on the field' }).click();
  const frame = section.locator('.field-frame');
  await expect(frame).toBeFocused();
  const drag = async (from: Locator, byX: number, byY: number, underWay = async () => {}) => {
    const box = await from.boundingBox();
    if (box === null) throw new Error('nothing to take hold of');
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 0.3 * byX, y + 0.3 * byY);
    await underWay();
    await page.mouse.move(x + byX, y + byY);
    await page.mouse.up();
  };
  // Words that come or go above while the hand is under way must not move the strips.
  const shiftsPage = () =>
    section.locator('.field-legend').evaluate((legend: HTMLElement) => {
      legend.style.marginTop = '-38px';
    });
  await drag(section.locator('.turn-middle'), 40, -20, shiftsPage);
  await expect(section).toContainText(/By hand, against the plan: [\d.]+ m east, [\d.]+ m north\./);
  const north = await section.getByLabel('North', { exact: true }).inputValue();
  expect(Number(north)).toBeCloseTo(
    Number(await section.getByLabel('East', { exact: true }).inputValue()) / 2,
    0,
  );
  await drag(section.locator('.turn-handle'), 30, 0);
  await expect(section).toContainText(/turned \d+(\.\d+)? degrees clockwise/);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(section.getByLabel('Turned, degrees')).toHaveValue('0');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(section).toContainText('Where they were planned.');

  await frame.focus();
  for (const _ of [1, 2, 3]) await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Shift+ArrowUp');
  await page.keyboard.press('PageDown');
  await expect(section).toContainText('1.5 m west, 2.5 m north, turned 0.1 degrees clockwise');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Undo' }).click();
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
