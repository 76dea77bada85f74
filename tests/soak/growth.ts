import type { CDPSession } from '@playwright/test';
import { holds } from './walker.ts';

/** What the page holds after its garbage was collected, always at the same place: the first page, with no trial kept. */
export interface Held {
  /** When the page was last loaded, which lets go of all that it held: only what was weighed since can be compared. */
  readonly loadedAt: number;
  readonly heapBytes: number;
  readonly nodes: number;
  readonly listeners: number;
  readonly workers: number;
}

/** Of the middle of the first third to that of the last: a leak grows with every trial, what is kept ready does not. */
const MOST_GROWTH = 1.15;
const FREE = { heapBytes: 3e6, nodes: 300, listeners: 100, workers: 0 } as const;
/** Modules, templates and compiled code come with the first trials. */
const WARMING_UP = 2;
const FEWEST = 6;

export async function heldNow(cdp: CDPSession, loadedAt: number, workers: number): Promise<Held> {
  for (let time = 0; time < 3; time += 1) await cdp.send('HeapProfiler.collectGarbage');
  const { usedSize } = await cdp.send('Runtime.getHeapUsage');
  const { nodes, jsEventListeners } = await cdp.send('Memory.getDOMCounters');
  return { loadedAt, heapBytes: usedSize, nodes, listeners: jsEventListeners, workers };
}

/** Law: what the page holds does not grow with the trials that were opened and closed since it was loaded. */
export function holdsNoMore(all: readonly Held[]): void {
  const settled = longestLoad(all).slice(WARMING_UP);
  if (settled.length < FEWEST) {
    console.log(
      `growth: only ${settled.length} trials after the first ${WARMING_UP} of one load, too few to judge`,
    );
    return;
  }
  const third = Math.floor(settled.length / 3);
  for (const what of ['heapBytes', 'nodes', 'listeners', 'workers'] as const) {
    const [before, after] = [settled.slice(0, third), settled.slice(-third)].map((part) =>
      middle(part.map((held) => held[what])),
    ) as [number, number];
    console.log(`growth: ${what} ${before} in the first third of the trials, ${after} in the last`);
    holds(after <= before * MOST_GROWTH + FREE[what], `${what} grew from ${before} to ${after}`);
  }
}

function longestLoad(all: readonly Held[]): readonly Held[] {
  const loads = [...new Set(all.map(({ loadedAt }) => loadedAt))];
  const byLoad = loads.map((load) => all.filter(({ loadedAt }) => loadedAt === load));
  return byLoad.reduce((longest, next) => (next.length > longest.length ? next : longest), []);
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
