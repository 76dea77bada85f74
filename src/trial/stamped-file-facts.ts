import * as v from 'valibot';
import { filledText } from './polygon-schema.ts';
import type { Moved } from './stamped-parts.ts';

/** What was said of one harvest file: what a bushel weighs in it, what harvested, who drove and when. */
export const stampedFileFactsSchema = v.object({
  path: filledText,
  kgPerBushel: v.nullable(v.pipe(v.number(), v.finite())),
  machine: v.nullable(v.string()),
  operator: v.nullable(v.string()),
  day: v.nullable(v.string()),
});

export type StampedFileFacts = v.InferOutput<typeof stampedFileFactsSchema>;

type Said = { readonly path: string } & {
  readonly [key in Exclude<keyof StampedFileFacts, 'path'>]?: StampedFileFacts[key] | undefined;
};

export function stampedFileFacts(files: readonly Said[]): StampedFileFacts[] {
  return files.map(({ path, kgPerBushel, machine, operator, day }) => ({
    path,
    kgPerBushel: kgPerBushel ?? null,
    machine: machine ?? null,
    operator: operator ?? null,
    day: day ?? null,
  }));
}

const NAMES = ['machine', 'operator', 'day'] as const;

/**
 * What moved of it. A machine, operator or day that is named for the first time changes no figure and is only a fact that was
 * missing, unless the machine is a term of the model; weight of a bushel sets the level of the yields and is always told.
 */
export function movedFileFacts(
  before: readonly StampedFileFacts[],
  files: readonly Said[],
  machineTerm: boolean,
): Moved[] {
  return stampedFileFacts(files).flatMap((now) => {
    const [nothingSaid] = stampedFileFacts([{ path: now.path }]);
    const was = before.find(({ path }) => path === now.path) ?? nothingSaid!;
    const isTold = (key: keyof StampedFileFacts) =>
      was[key] !== now[key] &&
      (was[key] !== null || key === 'kgPerBushel' || (key === 'machine' && machineTerm));
    return (['kgPerBushel', ...NAMES] as const).filter(isTold).map((key) => ({
      path: `files.${key}.${now.path}`,
      before: JSON.stringify(was[key]),
      now: JSON.stringify(now[key]),
    }));
  });
}
