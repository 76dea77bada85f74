import { signal } from '@preact/signals-core';

/** The stages of the work, in their order; the address names the one that is shown (`#/harvest`). */
export const STAGES = ['trial', 'layout', 'harvest', 'answer', 'handout'] as const;
export type Stage = (typeof STAGES)[number];

export const STAGE_NAMES: Readonly<Record<Stage, string>> = {
  trial: 'Trial',
  layout: 'Layout',
  harvest: 'Harvest',
  answer: 'Answer',
  handout: 'Handout',
};

export const stage = signal<Stage>(stageOfAddress());

export function followAddress(): void {
  addEventListener('hashchange', () => {
    stage.value = stageOfAddress();
  });
}

export function goTo(wanted: Stage): void {
  location.hash = `#/${wanted}`;
}

function stageOfAddress(): Stage {
  const name = location.hash.replace(/^#\//, '');
  return STAGES.find((candidate) => candidate === name) ?? 'trial';
}
