import { inflateSync } from 'node:zlib';
import { goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

/** Counts page objects, in the plain part of the PDF and in its packed object streams (ISO 32000-1, 7.5.7). */
function pagesOf(pdf: Buffer): number {
  const text = pdf.toString('latin1');
  const packed = [...text.matchAll(/stream\r?\n/g)].flatMap(({ index, 0: start }) => {
    const from = index + start.length;
    const to = text.indexOf('endstream', from);
    try {
      return [inflateSync(pdf.subarray(from, to)).toString('latin1')];
    } catch {
      return [];
    }
  });
  return [text, ...packed].join('\n').match(/\/Type\s*\/Page(?![a-zA-Z])/g)?.length ?? 0;
}

for (const format of ['A4', 'Letter'] as const) {
  for (const demo of ['Fungicide strips', 'Seed dressing pairs']) {
    test(`the handout of ${demo} prints on one page of ${format}`, async ({ page }) => {
      await openDemo(page, demo);
      await goToStage(page, 'Handout');
      await expect(page.locator('sv-handout-sheet svg').first()).toBeVisible();
      const pdf = await page.pdf({ format, preferCSSPageSize: false });
      expect(pagesOf(pdf)).toBe(1);
    });
  }
}

test('on paper nothing of the app stands around the handout', async ({ page }) => {
  await openDemo(page);
  await goToStage(page, 'Handout');
  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('navigation')).toBeHidden();
  await expect(page.getByRole('button', { name: 'Print' })).toBeHidden();
  await expect(page.locator('sv-handout-sheet .handout')).toBeVisible();
});
