import { goToStage, openDemo, STAGE_NAMES } from './stages.ts';
import { expect, test } from './watched-page.ts';

test('a newcomer opens the demo and reads the answer', async ({ page }) => {
  await openDemo(page);
  const answers = page.getByRole('article');
  await expect(answers.first()).toBeVisible();
  await expect(answers.first()).toContainText(/On (this field|these strips) /);
  await expect(answers.first().locator('.verdict')).toHaveCount(2);
  await expect(page.locator('sv-figure svg').first()).toBeVisible();
});

test('every stage of the demo is ready, and says so', async ({ page }) => {
  await openDemo(page);
  for (const name of STAGE_NAMES) {
    await goToStage(page, name);
    await expect(page.locator(`a[href="#/${name.toLowerCase()}"]`)).toHaveClass(/is-ready/);
  }
});

test('the second demo, weighed by hand, gives an answer too', async ({ page }) => {
  await openDemo(page, 'Seed dressing pairs');
  await expect(page.getByRole('article').first()).toContainText(/bu\/ac/);
});

test('the field shows kept points and points set aside, and says why', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const field = page.getByRole('group', { name: /The field with 30 strips and \d+ points/ });
  await field.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect(page.locator('.field-says')).toContainText('Set aside: ');
  await page.getByLabel('Show what was set aside').uncheck();
  await field.focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.locator('.field-says')).toContainText('Kept');
  const facts = page.locator('.point-facts');
  await expect(facts).toContainText(/Speed\s*\d+\.\d km\/h/);
  await expect(facts).toContainText(/Pass, as driven\s*1Heading\s*north/);
  await expect(facts).toContainText(/Inside its strip\s*100 %/);
  // Told of the point under the finger or the pointer as well.
  const box = await field.boundingBox();
  if (box === null) throw new Error('the field is not drawn');
  const heading = await facts.textContent();
  await field.click({ position: { x: box.width / 2, y: box.height / 2 } });
  await expect(facts).not.toHaveText(heading ?? '');
  await expect(facts).toContainText(/Moisture\s*\d+\.\d %/);

  await page.getByLabel('Show what was set aside').check();
  await page.getByLabel('Colours show').selectOption('why points were set aside');
  await expect(page.locator('.field-legend')).toContainText(/too near the end of the strip or pass: \d+/);
});
