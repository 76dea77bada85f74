import { SPRAYING_CAUTIONS } from '../../src/words/cautions.ts';
import { goToStage, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

/** The cautions are common practice; that they stand wherever spraying is planned or recorded is a rule of the project. */
test('cautions for spraying stand on every page where it is planned or recorded', async ({ page }) => {
  await openDemo(page);
  for (const name of ['Trial', 'Layout', 'Handout'] as const) {
    await goToStage(page, name);
    const cautions = page.getByRole('region', { name: 'Before anything is sprayed' });
    await expect(cautions.getByText(SPRAYING_CAUTIONS[0] ?? 'none')).toBeVisible();
    await cautions.getByText('All cautions, for ground rigs and drones').click();
    for (const caution of SPRAYING_CAUTIONS) await expect(cautions.getByText(caution)).toBeVisible();
    await expect(cautions.getByText(/aviation authority/)).toBeVisible();
  }
});
