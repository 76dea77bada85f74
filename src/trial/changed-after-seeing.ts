import { layoutMoveText, renumberedStrips } from './layout-as-it-lies.ts';
import type { LayoutMove } from './layout-move-schema.ts';
import { stampedApplication } from './stamped-application.ts';
import { movedFileFacts } from './stamped-file-facts.ts';
import { movedOfFiles, movedOfLayout, type StampedLayout, stampedLayout } from './stamped-parts.ts';
import { movedPasses } from './stamped-passes.ts';
import type { HarvestSettings, TrialDocument } from './trial-document.ts';

/** A setting that moved after harvest data had been opened; it weakens the answer and is printed on the handout. */
export interface LateChange {
  readonly path: string;
  readonly before: string;
  readonly now: string;
}

/**
 * Compares what decides the answer (level, procedure, comparisons, margin, cleaning, shifts and calibration of files,
 * what was said of them, which strips there are, what they count as and how they are drawn, which passes they were cut in,
 * where the layout lies) with the stamp. Money is free to move.
 */
export function changedAfterSeeing(trial: TrialDocument): readonly LateChange[] {
  if (trial.stamp === null) return [];
  const { inference, harvest, files = [], fileFacts, layout, application = [] } = trial.stamp;
  const machineTerm = trial.inference.machineTerm === true;
  return [
    ...changes('inference', inference, trial.inference),
    ...changes('harvest', harvest, trial.harvest),
    ...movedOfFiles(files, trial.harvestFiles),
    ...(fileFacts === undefined ? [] : movedFileFacts(fileFacts, trial.harvestFiles, machineTerm)),
    ...moveChange(trial.stamp.layoutMove, trial.layoutMove),
    ...changes('layout', { application }, { application: stampedApplication(trial) }),
    ...passChange(trial),
    ...(layout === undefined ? [] : movedOfLayout(asRenumbered(layout, trial), stampedLayout(trial))),
  ];
}

function changes(path: string, before: Record<string, unknown>, now: Record<string, unknown>): LateChange[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(now)])].sort();
  return keys.flatMap((key) => {
    const was = shown(key, before[key]);
    const is = shown(key, now[key]);
    return was === is ? [] : [{ path: `${path}.${key}`, before: was, now: is }];
  });
}

function moveChange(before: LayoutMove | undefined, now: LayoutMove | undefined): LateChange[] {
  const [was, is] = [before, now].map((move) => (move === undefined ? 'as planned' : layoutMoveText(move)));
  return was === is ? [] : [{ path: 'layoutMove', before: JSON.stringify(was), now: JSON.stringify(is) }];
}

/** A renumbering that was settled since stands in the strips' outlines; it is told with the move, and not once more here. */
function asRenumbered(layout: StampedLayout, { stamp, layoutMove }: TrialDocument): StampedLayout {
  const isSettledSince =
    layoutMove?.renumbered === true &&
    layoutMove.pinned !== undefined &&
    stamp?.layoutMove?.pinned === undefined;
  if (!isSettledSince) return layout;
  const planned = layout.strips.map((strip) => ({ ...strip, polygon: strip.polygon ?? null, place: null }));
  const renumbered = renumberedStrips(planned);
  if (renumbered === null) return layout;
  const strips = layout.strips.map((strip, k) =>
    strip.polygon === undefined ? strip : { ...strip, polygon: renumbered[k]?.polygon ?? null },
  );
  return { ...layout, strips };
}

function passChange(trial: TrialDocument): LateChange[] {
  const before = trial.stamp?.passes;
  const moved = before === undefined ? null : movedPasses(before, trial);
  return moved === null ? [] : [{ path: 'layout.passes', ...moved }];
}

/** Areas by why and where they were drawn; their corners would tell a reader nothing. */
function shown(key: string, value: unknown): string {
  if (key !== 'exclusions') return JSON.stringify(value ?? null);
  const areas = (value ?? []) as NonNullable<HarvestSettings['exclusions']>;
  const words = areas.map(
    ({ id, reason, strip }) => `${id}: ${reason}${strip === null ? '' : ` (${strip})`}`,
  );
  return JSON.stringify(words);
}
