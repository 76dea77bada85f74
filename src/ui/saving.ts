import { trialText } from '../trial/open-trial.ts';
import { download, fileName } from './download.ts';
import { announcement, trial } from './state/session.ts';

/** Hands the trial document to the user as a file; it opens again here and on the command line. */
export function saveTrial(): void {
  const current = trial.peek();
  if (current === null) return;
  download(fileName(current.name, '.trial.json'), trialText(current), 'application/json');
  announcement.value = 'The trial was saved to a file.';
}
