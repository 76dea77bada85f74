import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { differences } from './report-differences.ts';
import { answerIsThere, downloadedText, goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
for (const [title, folder] of [
  ['Fungicide strips', 'fungicide-strips'],
  ['Seed dressing pairs', 'seed-dressing-pairs'],
] as const) {
  test(`app and command line give the same report model for ${folder}`, async ({ page }) => {
    await openDemo(page, title);
    const fromApp: unknown = JSON.parse(
      await downloadedText(page, () => page.getByRole('button', { name: 'Report model as JSON' }).click()),
    );
    const fromCommandLine: unknown = JSON.parse(
      execFileSync(
        'npm',
        ['run', '--silent', 'stripverdict', '--', 'answer', `fixtures/demo/${folder}/trial.json`, '--json'],
        { cwd: ROOT, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 },
      ),
    );
    expect(differences(fromApp, fromCommandLine)).toEqual([]);
  });
}

test('and so they do with areas left out and settings of a file, from the document that the app saves', async ({
  page,
}) => {
  await openDemo(page);
  await goToStage(page, 'Harvest');
  const section = page.getByRole('region', { name: 'Areas left out' });
  await section.getByText('Leave out an area').click();
  await section.getByLabel('From', { exact: true }).fill('100');
  await section.getByLabel('To', { exact: true }).fill('140');
  await section.getByLabel('To', { exact: true }).press('Tab');
  await section.getByRole('button', { name: 'Leave out this stretch' }).click();
  await expect(section.getByRole('listitem')).toHaveCount(1);
  await page.getByText('Machine, operator, day and calibration').click();
  await page.getByLabel('Multiply masses by').fill('1.03');
  await page.getByLabel('Multiply masses by').press('Tab');
  await answerIsThere(page);
  await goToStage(page, 'Answer');
  await expect(page.getByText('masses were multiplied by 1.03').first()).toBeAttached();
  const fromApp = JSON.parse(
    await downloadedText(page, () => page.getByRole('button', { name: 'Report model as JSON' }).click()),
  ) as { strips: { pointsSetAside: Record<string, number> }[] };
  const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
  cpSync(join(ROOT, 'fixtures/demo/fungicide-strips'), folder, { recursive: true });
  const saved = await downloadedText(page, () =>
    page.getByRole('button', { name: 'Save to a file' }).click(),
  );
  writeFileSync(join(folder, 'trial.json'), saved);
  const fromCommandLine: unknown = JSON.parse(
    execFileSync(
      'npm',
      ['run', '--silent', 'stripverdict', '--', 'answer', join(folder, 'trial.json'), '--json'],
      {
        cwd: ROOT,
        encoding: 'utf8',
        maxBuffer: 64 * 1024 * 1024,
      },
    ),
  );
  expect(fromApp.strips.some(({ pointsSetAside }) => (pointsSetAside.cutFromBlock ?? 0) > 0)).toBe(true);
  expect(differences(fromApp, fromCommandLine)).toEqual([]);
});
