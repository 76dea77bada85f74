import type { HarvestFile } from '../trial/trial-document.ts';
import { KG_PER_POUND } from '../trial/units.ts';
import type { HarvestPoints } from './harvest-data.ts';
import { findUnit } from './known-units.ts';
import { intakeProblem } from './problem-codes.ts';
import { columnOf } from './recognise-columns.ts';

type ReadYield = Pick<HarvestPoints, 'file' | 'recognition'>;

/** Is the yield of this file counted in bushels? Of several columns that could carry it the first one read counts. */
export function isVolume({ recognition }: Pick<HarvestPoints, 'recognition'>): boolean {
  const carriers = (['yield', 'massFlow', 'mass'] as const).map((role) => columnOf(recognition, role));
  const readAs = carriers.find((column) => column !== null)?.readAs ?? null;
  return readAs !== null && (findUnit(readAs)?.inBushels ?? false);
}

/**
 * Asked where one file of a trial gives its yield by volume and another by mass: then the two stand on one level only
 * if the bushel is right, and strips of one file would be set against strips of the other. An answer is the weight of
 * a bushel, said for each file that counts them.
 */
export function volumeBesideMass(
  read: readonly ReadYield[],
  asked: readonly Pick<HarvestFile, 'path' | 'kgPerBushel'>[],
  poundsPerBushel: number | null,
): ReturnType<typeof intakeProblem>[] {
  const volumes = read.filter(isVolume);
  const masses = read.filter((one) => !isVolume(one));
  const isSaid = ({ file }: ReadYield) =>
    (asked.find(({ path }) => path === file)?.kgPerBushel ?? null) !== null;
  const open = volumes.filter((one) => !isSaid(one));
  const [first] = open;
  if (first === undefined || masses.length === 0) return [];
  const names = (files: readonly ReadYield[]) => files.map(({ file }) => file);
  const kgPerBushel = poundsPerBushel === null ? null : poundsPerBushel * KG_PER_POUND;
  return [
    intakeProblem(
      'volumeBesideMass',
      { file: first.file },
      { volumes: names(open), masses: names(masses), kgPerBushel, poundsPerBushel },
    ),
  ];
}
