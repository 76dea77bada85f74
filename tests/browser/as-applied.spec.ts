import {
  dropFiles,
  dropParts,
  ownLayout,
  ownLog,
  ownLoggedAreas,
  ownPoints,
  ownTaskData,
} from './own-files.ts';
import { answerIsThere, downloadedText, goToStage } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('an application log is dropped, its questions answered, and what it shows is left out', async ({
  page,
}) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownPoints(0)]);
  await answerIsThere(page);
  await dropFiles(page, [ownLog()]);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'As applied', exact: true });
  await expect(section).toContainText('how much ground a point stands for');
  await section.getByLabel('Width of the swath').fill('12');
  await section.getByLabel('Width of the swath').press('Tab');
  await expect(section).toContainText('names products that no treatment is known by (1): Trial mix 7.');
  await section.getByLabel('What Trial mix 7 is in the trial').selectOption({ label: 'Test product' });
  await expect(section).toContainText('Stretches did not get what was planned, in strips (1): 2');
  await expect(section).toContainText(
    'Something was put out on strips that were to get nothing (1): 5; Trial mix 7',
  );
  await section.getByText(/^Strip by strip/).click();
  // 40 m of the 260 m between the end margins of 20 m; 16 gal/ac.
  await expect(section.getByRole('row', { name: /^2 Test product/ })).toContainText('85 %');
  await expect(section.getByRole('row', { name: /^2 Test product/ })).toContainText('149.7 L/ha');
  await answerIsThere(page);
  await goToStage(page, 'Harvest');
  await expect(page.getByText('on ground that did not get what was planned').first()).toBeAttached();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByText('on ground that did not get what was planned')).toHaveCount(0);

  // The trial opened again without its log asks for it.
  const save = () => page.getByRole('button', { name: 'Save to a file' }).click();
  const saved = { name: 'own.trial.json', text: await downloadedText(page, save) };
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await dropFiles(page, [saved, ownLayout(), ownPoints(0)]);
  await expect(page.getByText('names “own-log.csv”, which this browser does not hold')).toBeVisible();
});

test('areas dropped on the section are a log, and their outlines may stand for the plan’s', async ({
  page,
}) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownPoints(0)]);
  await answerIsThere(page);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'As applied', exact: true });
  const transfer = await page.evaluateHandle(({ name, text }) => {
    const data = new DataTransfer();
    data.items.add(new File([text], name));
    return data;
  }, ownLoggedAreas());
  await section.dispatchEvent('drop', { dataTransfer: transfer });
  await section.getByRole('button', { name: /Let these outlines stand/ }).click();
  await expect(section).toContainText('their middles lie 1 m apart');
  await section.getByRole('button', { name: 'Lay them as planned again' }).click();
  await expect(section.getByRole('button', { name: /Let these outlines stand/ })).toBeVisible();
  // The same field by task data, told by their content, in place of the areas.
  await section.getByRole('button', { name: /Take this log out/ }).click();
  await dropParts(page, [ownTaskData()]);
  await section.getByLabel('What Trial mix 7 is in the trial').selectOption({ label: 'Test product' });
  await expect(section).toContainText(
    'Stretches did not get what was planned, in strips (1): 3; 40 m in all',
  );
  await section.getByText(/^Strip by strip/).click();
  await expect(section.getByRole('row', { name: /^3 Test product/ })).toContainText('150.0 L/ha');
  await section.getByText('What each treatment was to get', { exact: true }).click();
  await section
    .getByLabel('How the rate of Test product is counted')
    .selectOption({ label: 'number, seeds/ha' });
  await section.getByLabel('Planned rate of Test product').fill('80000');
  await section.getByLabel('Planned rate of Test product').press('Tab');
  await expect(section).toContainText('The log gives rates in L/ha and the plan in seeds/ha');
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByRole('region', { name: 'What makes it weaker' })).toContainText(
    'Stretches did not get what was planned and are left out (40 m in all; of strips 3)',
  );
});
