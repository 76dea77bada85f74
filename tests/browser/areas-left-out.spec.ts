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
  await expect(page.locator('.areas > li')).toHaveText(/Wet hole, cut from\s+every strip of the block/);
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
  await expect(page.locator('.areas > li')).toHaveCount(2);
  // Drawn beside the field, it cuts nothing, and the page says so.
  await expect(section).toContainText('lies over no strip');

  // Its kind and its corners change, on the field and in numbers, each a step to undo.
  await section.getByRole('button', { name: 'Change area 2' }).click();
  const editor = section.getByRole('group', { name: 'Change area 2' });
  await editor.getByLabel('What is there').selectOption('hail');
  await expect(page.locator('.areas > li').nth(1)).toContainText('2 Hail, cut from');
  await editor.getByLabel('Cut from').selectOption({ index: 1 });
  await expect(editor).toContainText('says why: write that first');
  const east = editor.getByLabel('Corner 1, east');
  const before = Number(await east.inputValue());
  await frame.scrollIntoViewIfNeeded();
  const box = (await frame.boundingBox())!;
  await page.mouse.move(box.x + 200, box.y + 120);
  await page.mouse.down();
  await page.mouse.move(box.x + 190, box.y + 110);
  await page.mouse.move(box.x + 180, box.y + 100);
  await page.mouse.up();
  await expect(east).not.toHaveValue(String(before));
  expect(Number(await east.inputValue())).toBeLessThan(before);
  await expect(editor).not.toContainText('says why');
  await east.fill(String(before + 5));
  await east.press('Tab');
  for (let step = 0; step < 3; step += 1) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.locator('.areas > li').nth(1)).toContainText('2 Wet hole, cut from');
  expect(Math.abs(Number(await east.inputValue()) - before)).toBeLessThan(0.02);

  // From a file: all in one step, or none.
  const ring = [
    [67.4009, 50.901],
    [67.4013, 50.901],
    [67.4013, 50.9013],
    [67.4009, 50.901],
  ];
  const areas = (properties: object) =>
    section.getByLabel('Take areas from a file').setInputFiles({
      name: 'areas.geojson',
      mimeType: 'application/geo+json',
      buffer: Buffer.from(
        JSON.stringify({ type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [ring] } }),
      ),
    });
  await areas({ kind: 'lodging', strip: 'S07' });
  await expect(page.getByText('does not say why')).toBeVisible();
  await areas({ kind: 'lodging', strip: 'S07', note: 'runs through this strip alone' });
  await expect(page.locator('.areas > li').nth(2)).toContainText('Lodging: runs through this strip alone');
  for (const left of [2, 1, 0]) {
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(page.locator('.areas > li')).toHaveCount(left);
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
