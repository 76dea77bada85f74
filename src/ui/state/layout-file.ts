import { computed, effect, signal } from '@preact/signals-core';
import type { LayoutReading } from '../../pipeline/layout-reading.ts';
import { BackgroundAnalysis } from '../../workers/background-analysis.ts';
import { files, trial } from './session.ts';

/** How the layout file reads; null while it is being read, and where this browser does not hold it. */
export const layoutRead = signal<LayoutReading | null>(null);

const layoutFile = computed(() => trial.value?.layoutFile ?? null);

/** Keeps the reading current while it is shown; the result ends that. */
export function keepLayoutRead(): () => void {
  const background = new BackgroundAnalysis();
  const stop = effect(() => {
    const opened = files.value;
    void layoutFile.value;
    const current = trial.peek();
    layoutRead.value = null;
    if (current === null || current.layoutFile === null) return;
    background.layoutReading(current, opened).then(
      (read) => {
        if (read !== 'cancelled') layoutRead.value = read;
      },
      // Without it the page offers no properties; the strips stand as they are.
      () => undefined,
    );
  });
  return () => {
    stop();
    background.close();
  };
}
