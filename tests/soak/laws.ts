import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { differences } from '../browser/report-differences.ts';
import { atRest, goTo, handedOver, holds, pressHistory, savedTrial, type Walker } from './walker.ts';

const MOST_OUTPUT_BYTES = 256 * 1024 * 1024;
const MOST_SHOWN = 5;

/** Law: whatever was done, the answer shown at rest is that of the command line for the saved trial and the same files. */
export async function sameAnswerAsCommandLine(walker: Walker): Promise<void> {
  const { page, folder, root } = walker;
  await workOutWhatWasStopped(walker);
  writeFileSync(join(folder, 'trial.json'), await savedTrial(page));
  const theirs = await commandLineReport(root, join(folder, 'trial.json'));
  await goTo(page, 'answer');
  await page.waitForTimeout(300);
  const download = page.getByRole('button', { name: 'Report model as JSON', exact: true });
  if ((await download.count()) === 0) {
    holds(theirs.responses.length === 0, 'the page has no answer, the command line has one');
    return;
  }
  const ours: unknown = JSON.parse(await handedOver(page, 'Report model as JSON'));
  const apart = differences(ours, theirs);
  holds(
    apart.length === 0,
    `page and command line differ, first ${MOST_SHOWN} of ${apart.length}: ${apart.slice(0, MOST_SHOWN).join('; ')}`,
  );
}

async function workOutWhatWasStopped({ page }: Walker): Promise<void> {
  await atRest(page);
  await goTo(page, 'harvest');
  const again = page.getByRole('button', { name: 'Work it out', exact: true });
  if ((await again.count()) === 0) return;
  await again.click();
  await atRest(page);
}

/** Law: undoing everything gives the document it began with, doing as much again the one that was left. */
export async function undoneIsAsBegun({ page, walk }: Walker, begun: string): Promise<void> {
  await atRest(page);
  const left = await savedTrial(page);
  const steps = await pressHistory(page, 'Undo');
  holds((await savedTrial(page)) === begun, 'with everything undone the trial is not what it was');
  await pressHistory(page, 'Redo', steps);
  holds((await savedTrial(page)) === left, 'with everything done again the trial is not what it was');
  await pressHistory(page, 'Undo');
  await atRest(page);
  walk.push('undo everything');
}

interface Answered {
  readonly responses: readonly unknown[];
}

/** What it prints, also where there is nothing to analyse. */
function commandLineReport(root: string, trialFile: string): Promise<Answered> {
  const words = ['src/cli/launch.mjs', 'answer', trialFile, '--json'];
  return new Promise((resolve, reject) => {
    execFile(
      process.execPath,
      words,
      { cwd: root, maxBuffer: MOST_OUTPUT_BYTES },
      (error, stdout, stderr) => {
        if (stdout === '') {
          reject(error ?? new Error(`the command line printed nothing: ${stderr}`));
          return;
        }
        const printed = JSON.parse(stdout) as Partial<Answered>;
        resolve({ ...printed, responses: printed.responses ?? [] });
      },
    );
  });
}

/** Law: what was stopped brings nothing later, and nothing runs on: the workers answer at once. */
export async function nothingAfterStop({ page, walk }: Walker): Promise<void> {
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  try {
    await stop.waitFor({ timeout: 10_000 });
    await stop.click({ timeout: 2000 });
  } catch {
    walk.push('Stop came too late');
    return;
  }
  walk.push('Stop');
  await page.waitForTimeout(2500);
  await goTo(page, 'harvest');
  const isStopped = await page.locator('.progress-panel', { hasText: 'Stopped' }).count();
  holds(isStopped === 1, 'what was stopped did not stay stopped');
  for (const worker of page.workers()) {
    const began = performance.now();
    await worker.evaluate(() => 0);
    holds(performance.now() - began < 1000, 'a worker is at work after Stop');
  }
}
