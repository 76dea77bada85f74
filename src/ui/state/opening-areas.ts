import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { announcement, dispatch, notice, trial } from './session.ts';

const background = new BackgroundAnalysis();

/** Takes the polygons of files as areas to leave out, all of them in one step to undo, or none. */
export async function openAreas(picked: readonly File[]): Promise<void> {
  const current = trial.peek();
  if (current === null || picked.length === 0) return;
  const found = await background.areas(
    current,
    picked.map((file) => ({ name: file.name, bytes: file })),
  );
  if (found === 'cancelled') return;
  if (!found.ok) {
    notice.value = { text: 'No area was taken. Everything is as it was.', problems: found.problems };
    announcement.value = 'No area was taken.';
    return;
  }
  if (!dispatch(...found.value.map((area) => ({ name: 'addExclusion', area }) as const))) return;
  notice.value =
    found.problems.length === 0
      ? null
      : { text: 'The areas were taken, with remarks.', problems: found.problems };
  announcement.value =
    found.value.length === 1 ? 'One area is left out.' : `${found.value.length} areas are left out.`;
}
