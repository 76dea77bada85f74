import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from '@playwright/test';
import type { AxeResults } from 'axe-core';
import { goToStage, openDemo, STAGE_NAMES } from './stages.ts';
import { expect, test } from './watched-page.ts';

/** Rules: axe-core 4.14, WCAG 2.2 A and AA and its best practices; what it rates serious or critical fails. */
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

async function graveViolations(page: Page): Promise<readonly string[]> {
  await page.evaluate(AXE);
  const results = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  expect(results.passes.length, 'axe must have looked at something').toBeGreaterThan(10);
  return results.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`);
}

test('the first page has no grave fault of accessibility', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  expect(await graveViolations(page)).toEqual([]);
});

/** What only stands there once it is asked for. */
async function tryEverything(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Estimate it from the points' }).click();
  await expect(page.locator('sv-lag svg').first()).toBeVisible();
  await page.getByRole('button', { name: 'Try all cleanings' }).click();
  await expect(page.locator('sv-cleanings svg').first()).toBeVisible();
}

for (const name of STAGE_NAMES) {
  test(`${name} has no grave fault of accessibility, with everything opened`, async ({ page }) => {
    await openDemo(page);
    await goToStage(page, name);
    if (name === 'Trial') await expect(page.locator('sv-replicates svg')).toBeVisible();
    if (name === 'Harvest') await tryEverything(page);
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    expect(await graveViolations(page)).toEqual([]);
  });
}
