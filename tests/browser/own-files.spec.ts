import { readFileSync } from 'node:fs';
import {
  dropFiles,
  layoutInOwnWords,
  OWN_STRIPS,
  ownLayout,
  ownLayoutAsKml,
  ownProtein,
  ownWeights,
  weightsTwice,
  weightsWithMistake,
} from './own-files.ts';
import { answerIsThere, goToStage } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('own files, dropped together, become a trial with an answer', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Layout');
  await expect(page.getByRole('region', { name: 'Strips', exact: true }).last().getByRole('row')).toHaveCount(
    OWN_STRIPS + 1,
  );
  await goToStage(page, 'Answer');
  await expect(page.getByRole('article')).toContainText('Test product against Untreated');
  // A second table carries another response of the same strips.
  await goToStage(page, 'Harvest');
  await dropFiles(page, [ownProtein()]);
  await expect(page.getByRole('region', { name: 'own-protein.csv' })).toBeVisible();
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByRole('main')).toContainText('protein (%)');
});

test('a mistake in a file is named by row and column; the mended file brings the answer', async ({
  page,
}) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), weightsWithMistake()]);
  await goToStage(page, 'Harvest');
  const fault = page.locator('.problem').filter({ hasText: 'own-weights.csv' });
  await expect(fault).toContainText('row 4');
  await expect(fault).toContainText('weight (kg)');
  await expect(fault).toContainText('heavy');
  await dropFiles(page, [ownWeights()]);
  await answerIsThere(page);
  await expect(fault).toHaveCount(0);
});

test('a file of another kind is refused in a sentence, and nothing entered is lost', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Trial');
  await page.getByLabel('Name of the trial').fill('My strips');
  await page.getByLabel('Name of the trial').press('Tab');
  await dropFiles(page, [{ name: 'holiday.png', text: '\u0089PNG\r\n\u001a\n\u0000\u0000' }]);
  await expect(page.getByRole('alert')).toContainText('Nothing was opened');
  await expect(page.getByRole('alert')).toContainText('holiday.png');
  await expect(page.getByLabel('Name of the trial')).toHaveValue('My strips');
  await answerIsThere(page);
});

test('a trial saved to a file opens again as it was', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Trial');
  await page.getByLabel('Season').fill('a dry one');
  await page.getByLabel('Season').press('Tab');
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save to a file' }).click(),
  ]);
  const bytes = readFileSync(await saved.path());
  await page.getByRole('button', { name: 'Close' }).click();
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles([
      { name: saved.suggestedFilename(), mimeType: 'application/json', buffer: bytes },
      { name: 'own-weights.csv', mimeType: 'text/csv', buffer: Buffer.from(ownWeights().text) },
    ]);
  await answerIsThere(page);
  await goToStage(page, 'Trial');
  await expect(page.getByLabel('Season')).toHaveValue('a dry one');
});

test('two columns of a pasted table may be the weight: the user is asked, and the answer is kept', async ({
  page,
}) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout()]);
  await goToStage(page, 'Harvest');
  await page.getByText('Paste a table of weights').click();
  await page.getByRole('button', { name: 'Take this table' }).click();
  await expect(page.getByText('Paste the headings and at least one row')).toBeVisible();
  // As a spreadsheet copies it: tabs between cells.
  await page.getByLabel('One row for each strip or sample').fill(weightsTwice().text.replaceAll(',', '\t'));
  await page.getByRole('button', { name: 'Take this table' }).click();
  const question = page.getByLabel('Which column is the weight?');
  await question.selectOption('weight B (kg)');
  await answerIsThere(page);
  await expect(question).toHaveCount(0);
  await page.getByText('What each column was understood as').click();
  await expect(page.getByLabel('Column for weight')).toHaveValue('weight B (kg)');
  await page.getByLabel('Unit of weight').selectOption('lb');
  await expect(page.getByText('read as lb; chosen by you')).toBeVisible();
});

test('the moisture at which weights stand is asked and kept', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Harvest');
  await page.getByLabel('At which moisture does it stand?').selectOption('wet');
  await goToStage(page, 'Trial');
  await page.getByLabel('Standard moisture').fill('14');
  await page.getByLabel('Standard moisture').press('Tab');
  await goToStage(page, 'Answer');
  await answerIsThere(page);
  await expect(page.getByText('Nobody said at which moisture')).toHaveCount(0);
});

test('the layout page says which property became what, and takes others of the file', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Layout');
  const section = page.getByRole('region', { name: 'How own-strips.geojson was read' }).first();
  await expect(section.getByRole('row', { name: /The block/ })).toContainText('its name says so');
  const block = section.getByLabel('The block (replicate)');
  await expect(block.getByRole('option')).toHaveText([
    'found by its meaning: block',
    'strip',
    'treatment',
    'block',
    'place',
  ]);
  await block.selectOption('place');
  await expect(section.getByRole('row', { name: /The block/ })).toContainText('chosen by you');
  await expect(section).toContainText('10 blocks');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(section).toContainText('5 blocks');
});

test('a layout whose treatment no name tells asks for it, and draws the strips once told', async ({
  page,
}) => {
  await page.goto('/');
  await dropFiles(page, [layoutInOwnWords(), ownWeights()]);
  await expect(page.getByRole('heading', { level: 1, name: 'Layout' })).toBeVisible();
  const section = page.getByRole('region', { name: 'How own-strips.geojson was read' }).first();
  await expect(section).toContainText('No property is recognised as the treatment');
  await section.getByLabel('The treatment').selectOption('what');
  await expect(section).toContainText('10 strips, 2 treatments, 5 blocks');
  await answerIsThere(page);
});

test('strips dropped as KML give the same answer', async ({ page }) => {
  await page.goto('/');
  await dropFiles(page, [ownLayout(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  const sentence = await page.locator('.answer-sentence').first().textContent();
  await page.getByRole('button', { name: 'Close' }).click();
  await dropFiles(page, [ownLayoutAsKml(), ownWeights()]);
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.locator('.answer-sentence').first()).toHaveText(sentence ?? 'none');
});
