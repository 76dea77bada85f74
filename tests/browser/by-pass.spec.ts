import { harvestText, stripList } from '../simulator/field-by-pass.ts';
import { dropFiles } from './own-files.ts';
import { answerIsThere, goToStage } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('strips that were never mapped are listed, given their passes and answered', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Begin with an empty trial' }).click();
  await goToStage(page, 'Layout');
  const list = page.getByRole('textbox', { name: /^One strip a line/ });
  await list.fill('S1; Leaf spray; 1');
  await page.getByRole('button', { name: 'Take these strips' }).click();
  await expect(page.locator('sv-strip-list .problems')).toBeVisible();
  await list.fill(stripList(false));
  await page.getByRole('button', { name: 'Take these strips' }).click();
  await expect(page.getByRole('row', { name: /^S8/ })).toBeVisible();

  await goToStage(page, 'Harvest');
  await dropFiles(page, [{ name: 'yield.csv', text: harvestText(160) }]);
  const section = page.getByRole('region', { name: 'Which passes belong to which strip' }).first();
  await expect(section).toContainText('10 passes were found, numbered from the western edge on.');
  await expect(page.getByRole('navigation', { name: 'Stages' })).toContainText('passes to assign');

  const propose = section.getByRole('button', { name: 'Give each strip as many, in this order' });
  await propose.click();
  await expect(section).toContainText('10 passes cannot be shared out evenly among 8 strips.');
  const ofTrial = section.getByRole('textbox', { name: 'Passes of the trial' });
  await ofTrial.fill('2-11');
  await ofTrial.blur();
  await expect(section).toContainText('“2-11”: there is no pass of so high a number; the last is 10.');
  await ofTrial.fill('2-9');
  await ofTrial.blur();
  await propose.click();
  await expect(section.getByRole('textbox', { name: 'Passes of strip S8' })).toHaveValue('9');
  await expect(section).toContainText('Of no strip, and left out: 1, 10.');
  await answerIsThere(page);

  const own = section.getByRole('textbox', { name: 'Passes of strip S2' });
  await own.fill('2');
  await own.blur();
  await expect(section).toContainText('Pass 2 belongs to strip S1; take it from there first.');
  await own.fill('');
  await own.blur();
  await expect(section).toContainText('Of no strip, and left out: 1, 3, 10.');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(own).toHaveValue('3');

  // A pass through two tiers of strips is cut where it is pointed at, all passes alike; the strips keep their ground.
  const pass = section.locator('[data-pass="5"] path');
  await pass.click();
  await expect(section.getByLabel('So far along')).toHaveValue(/^\d+$/);
  await section.getByRole('button', { name: 'Cut here' }).click();
  await expect(section).toContainText('20 passes were found');
  await expect(own).toHaveValue('5-6');
  await expect(section.locator('[data-pass]')).toHaveCount(20);
  await answerIsThere(page);
  await section.getByText('Add a strip', { exact: true }).click();
  await expect(section.getByLabel('Name of the strip')).toHaveValue('S9');
  await section.getByRole('button', { name: 'Add this strip' }).click();
  await own.fill('5');
  await own.blur();
  const added = section.getByRole('textbox', { name: 'Passes of strip S9' });
  await added.fill('6');
  await added.blur();
  await answerIsThere(page);
  await expect(page.getByRole('group', { name: /The field with 9 strips/ })).toBeVisible();
  for (const _ of [1, 2, 3]) await page.getByRole('button', { name: 'Undo' }).click();
  await section.getByRole('button', { name: /^Take back: Every pass cut \d+ m along/ }).click();
  await expect(own).toHaveValue('3');
  await expect(section).toContainText('10 passes were found');
  await expect(page.getByRole('heading', { name: 'The field and its points' })).toBeVisible();

  await goToStage(page, 'Answer');
  await expect(page.locator('.answer-sentence').first()).toContainText('Leaf spray');
  await goToStage(page, 'Layout');
  await expect(page.locator('sv-figure svg').first()).toBeVisible();
});
