import * as v from 'valibot';
import { filledText, stripPolygonSchema } from './polygon-schema.ts';
import { movedOutlines } from './stamped-outlines.ts';

const finite = v.pipe(v.number(), v.finite());

/** What was set for one harvest file alone. A file without any of it is not listed. */
export const stampedFileSchema = v.object({
  path: filledText,
  shiftLagS: v.nullable(finite),
  shiftMoistureS: v.nullable(finite),
  calibrationFactor: v.nullable(finite),
});

/** How the trial was laid out: its design, and what each strip and treatment counts as. */
export const stampedLayoutSchema = v.object({
  design: v.string(),
  strips: v.array(
    v.object({
      id: filledText,
      treatment: v.string(),
      block: v.nullable(v.string()),
      row: v.nullable(v.string()),
      column: v.nullable(v.string()),
      covariate: v.nullable(finite),
      /** As drawn; absent in older stamps, which then say nothing of it. */
      polygon: v.optional(v.nullable(stripPolygonSchema)),
    }),
  ),
  factorLevels: v.array(v.object({ id: filledText, levels: v.nullable(v.array(v.string())) })),
});

export type StampedFile = v.InferOutput<typeof stampedFileSchema>;
export type StampedLayout = v.InferOutput<typeof stampedLayoutSchema>;

interface FileSettings {
  readonly path: string;
  readonly shiftLagS?: number | null | undefined;
  readonly shiftMoistureS?: number | null | undefined;
  readonly calibrationFactor?: number | null | undefined;
}

export function stampedFiles(files: readonly FileSettings[]): StampedFile[] {
  return files.map(stampedFile).filter((file) => OF_A_FILE.some((key) => file[key] !== null));
}

const OF_A_FILE = ['shiftLagS', 'shiftMoistureS', 'calibrationFactor'] as const;

function stampedFile({ path, shiftLagS, shiftMoistureS, calibrationFactor }: FileSettings): StampedFile {
  return {
    path,
    shiftLagS: shiftLagS ?? null,
    shiftMoistureS: shiftMoistureS ?? null,
    calibrationFactor: calibrationFactor ?? null,
  };
}

interface LaidOut {
  readonly design: string;
  readonly strips: readonly {
    readonly id: string;
    readonly treatment: string;
    readonly block: string | null;
    readonly row?: string | null | undefined;
    readonly column?: string | null | undefined;
    readonly covariate?: number | null | undefined;
    readonly polygon: StampedLayout['strips'][number]['polygon'];
  }[];
  readonly treatments: readonly {
    readonly id: string;
    readonly factorLevels?: readonly string[] | null | undefined;
  }[];
}

export function stampedLayout({ design, strips, treatments }: LaidOut): StampedLayout {
  return {
    design,
    strips: strips.map(({ id, treatment, block, row, column, covariate, polygon }) => ({
      id,
      treatment,
      block,
      row: row ?? null,
      column: column ?? null,
      covariate: covariate ?? null,
      polygon: polygon ?? null,
    })),
    factorLevels: treatments.map(({ id, factorLevels }) => ({
      id,
      levels: factorLevels === null || factorLevels === undefined ? null : [...factorLevels],
    })),
  };
}

/** A setting before and now, as JSON text. */
export interface Moved {
  readonly path: string;
  readonly before: string;
  readonly now: string;
}

/** Settings of single files that moved; a file that was not there had none. The path ends with the file's own. */
export function movedOfFiles(before: readonly StampedFile[], files: readonly FileSettings[]): Moved[] {
  return files.map(stampedFile).flatMap((now) => {
    const was = before.find(({ path }) => path === now.path) ?? stampedFile({ path: now.path });
    return OF_A_FILE.flatMap((key) =>
      moved(`files.${key}.${now.path}`, JSON.stringify(was[key]), JSON.stringify(now[key])),
    );
  });
}

const OF_A_STRIP = ['treatment', 'block', 'row', 'column', 'covariate'] as const;

/** Which strips came or went, and what moved for strips and treatments that stayed: those concerned, each with its value. */
export function movedOfLayout(before: StampedLayout, now: StampedLayout): Moved[] {
  const strips = pairedById(before.strips, now.strips);
  const treatments = pairedById(before.factorLevels, now.factorLevels);
  return [
    ...moved('layout.design', JSON.stringify(before.design), JSON.stringify(now.design)),
    ...comeAndGone(before.strips, now.strips),
    ...OF_A_STRIP.flatMap((key) => movedEntries(`layout.${key}`, strips, (strip) => strip[key])),
    ...outlinesMoved(before, now),
    ...movedEntries('layout.factorLevels', treatments, ({ levels }) => levels?.join(' × ') ?? null),
  ];
}

function outlinesMoved(before: StampedLayout, now: StampedLayout): Moved[] {
  const is = movedOutlines(before.strips, now.strips);
  return is === null
    ? []
    : [{ path: 'layout.outlines', before: JSON.stringify('as first seen'), now: JSON.stringify(is) }];
}

/** Without any strips before there was no layout to compare with. */
function comeAndGone(before: StampedLayout['strips'], now: StampedLayout['strips']): Moved[] {
  if (before.length === 0) return [];
  const without = (strips: StampedLayout['strips'], others: StampedLayout['strips']) =>
    strips.filter(({ id }) => others.every((other) => other.id !== id)).map(({ id }) => id);
  const [gone, come] = [without(before, now), without(now, before)];
  const shown = (of: readonly string[], word: string) => of.map((id) => `${id}: ${word}`);
  return moved(
    'layout.strips',
    JSON.stringify([...shown(gone, 'a strip'), ...shown(come, 'no strip')]),
    JSON.stringify([...shown(gone, 'no strip'), ...shown(come, 'a strip')]),
  );
}

function pairedById<T extends { readonly id: string }>(before: readonly T[], now: readonly T[]): [T, T][] {
  const known = new Map(before.map((entry) => [entry.id, entry]));
  return now.flatMap((entry) => {
    const was = known.get(entry.id);
    return was === undefined ? [] : [[was, entry] satisfies [T, T]];
  });
}

function movedEntries<T extends { readonly id: string }>(
  path: string,
  pairs: readonly [T, T][],
  shownBy: (entry: T) => string | number | null,
): Moved[] {
  const different = pairs.filter(([was, is]) => shownBy(was) !== shownBy(is));
  const shown = (place: 0 | 1) =>
    JSON.stringify(different.map((pair) => `${pair[place].id}: ${shownBy(pair[place]) ?? 'not set'}`));
  return moved(path, shown(0), shown(1));
}

function moved(path: string, before: string, now: string): Moved[] {
  return before === now ? [] : [{ path, before, now }];
}
