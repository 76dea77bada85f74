import { fileURLToPath } from 'node:url';
import type { Page } from '@playwright/test';
import { goToStage, openDemo, STAGE_NAMES } from './stages.ts';
import { expect, test } from './watched-page.ts';

const FOLDER = fileURLToPath(new URL('../../dist/screenshots/', import.meta.url));
const WIDTHS = [
  { width: 1440, height: 900 },
  { width: 1024, height: 768 },
  { width: 390, height: 844 },
];

for (const viewport of WIDTHS) {
  test(`at ${viewport.width} px no page scrolls sideways; pictures are kept`, async ({ page }) => {
    await page.setViewportSize(viewport);
    await page.goto('/');
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await page.screenshot({ path: `${FOLDER}${viewport.width}-start.png`, fullPage: true });
    await openDemo(page);
    for (const name of STAGE_NAMES) {
      await goToStage(page, name);
      if (name === 'Trial') await expect(page.locator('sv-replicates svg')).toBeVisible();
      if (name === 'Harvest') await expect.poll(() => arePointsPainted(page)).toBe(true);
      await page.screenshot({ path: `${FOLDER}${viewport.width}-${name.toLowerCase()}.png`, fullPage: true });
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overhang, `${name} hangs over by so many px`).toBe(0);
    }
  });
}

/** They come a moment after the strips. */
function arePointsPainted(page: Page): Promise<boolean> {
  return page.locator('sv-field-and-points canvas').evaluate((canvas: HTMLCanvasElement) => {
    const image = canvas.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height);
    return image?.data.some((byte) => byte !== 0) ?? false;
  });
}
