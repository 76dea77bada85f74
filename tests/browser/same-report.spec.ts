import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { downloadedText, openDemo } from './stages.ts';
import { expect, test } from './watched-page.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Engines differ in the last bit of exp and log; the design allows this much. */
const RELATIVE = 1e-11;

/** Each number that differs by more than allowed, and everything else that differs at all. */
function differences(ours: unknown, theirs: unknown, path = ''): readonly string[] {
  if (typeof ours === 'number' && typeof theirs === 'number') {
    const size = Math.max(Math.abs(ours), Math.abs(theirs));
    return Math.abs(ours - theirs) <= RELATIVE * size ? [] : [`${path}: ${ours} and ${theirs}`];
  }
  if (ours === null || theirs === null || typeof ours !== 'object' || typeof theirs !== 'object') {
    return ours === theirs ? [] : [`${path}: ${JSON.stringify(ours)} and ${JSON.stringify(theirs)}`];
  }
  const keys = Object.keys(ours);
  if (keys.join() !== Object.keys(theirs).join()) return [`${path}: keys or their order differ`];
  return keys.flatMap((key) =>
    differences(
      (ours as Record<string, unknown>)[key],
      (theirs as Record<string, unknown>)[key],
      `${path}.${key}`,
    ),
  );
}

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
