import { compensatedMean } from './compensated-sum.ts';
import type { Pair } from './paired-t.ts';

/** One strip of a trial with repeated checks. */
export interface PlacedStrip {
  readonly block: number;
  /** Place across the field, in any unit that grows across it; strips may be numbered. */
  readonly place: number;
  readonly treatment: number;
  /** null where the strip is lost. */
  readonly value: number | null;
}

export interface NearestCheckPair {
  readonly block: number;
  /** a: mean of the treatment's strips in the block; b: mean of the checks they are held against. Null: nothing to pair. */
  readonly pair: Pair;
  /** Indices into the strips given: the treatment's, and the checks used. */
  readonly strips: readonly number[];
  readonly checks: readonly number[];
  /** From the treatment's strips to their checks, in units of place; null where there is no pair. */
  readonly farthest: number | null;
}

/**
 * Pairs a treatment with the check strip nearest to it in its own block, for {@link pairedT}: what lies closest shares most of
 * the ground, so the difference carries least of the field's own variation.
 *
 * Definition: lost strips have no part, so where the nearest check is lost the next one stands in (told by `farthest`). Of
 * two checks equally near the mean is taken. Several strips of a treatment in one block make one pair by their means: the
 * block stays the replicate. Two treatments held against the same check strip are not independent of each other.
 *
 * @param strips - of all treatments
 * @param treatment, check - two different treatments
 * @returns one row for each block in which the treatment or the check stands, in order of appearance
 * @throws RangeError when treatment and check are the same, or a place is not a number
 * Source: common practice; the pairing follows Student's paired comparison (1908), Biometrika 6:1-25.
 */
export function nearestCheckPairs(
  strips: readonly PlacedStrip[],
  treatment: number,
  check: number,
): readonly NearestCheckPair[] {
  if (treatment === check)
    throw new RangeError(`nearestCheckPairs: expected a treatment other than the check ${check}`);
  const stray = strips.find((strip) => !Number.isFinite(strip.place));
  if (stray !== undefined) throw new RangeError(`nearestCheckPairs: expected a place, got ${stray.place}`);
  const taking = strips.filter((strip) => strip.treatment === treatment || strip.treatment === check);
  const blocks = [...new Set(taking.map((strip) => strip.block))];
  return blocks.map((block) => pairOfBlock(strips, block, treatment, check));
}

function pairOfBlock(
  strips: readonly PlacedStrip[],
  block: number,
  treatment: number,
  check: number,
): NearestCheckPair {
  const present = (wanted: number) =>
    strips.flatMap((strip, i) =>
      strip.block === block && strip.treatment === wanted && strip.value !== null ? [i] : [],
    );
  const [own, checks] = [present(treatment), present(check)];
  const read = (i: number) => strips[i]!.value!;
  if (own.length === 0 || checks.length === 0) {
    const side = (found: readonly number[]) => (found.length === 0 ? null : compensatedMean(found.map(read)));
    return { block, pair: { a: side(own), b: side(checks) }, strips: own, checks: [], farthest: null };
  }
  const nearest = own.map((i) => nearestTo(strips, i, checks));
  return {
    block,
    pair: {
      a: compensatedMean(own.map(read)),
      b: compensatedMean(nearest.map(({ found }) => compensatedMean(found.map(read)))),
    },
    strips: own,
    checks: [...new Set(nearest.flatMap(({ found }) => found))],
    farthest: Math.max(...nearest.map(({ distance }) => distance)),
  };
}

function nearestTo(
  strips: readonly PlacedStrip[],
  from: number,
  checks: readonly number[],
): { readonly found: readonly number[]; readonly distance: number } {
  const distanceTo = (check: number) => Math.abs(strips[check]!.place - strips[from]!.place);
  const distance = Math.min(...checks.map(distanceTo));
  // Places measured in metres are equally near when they differ by rounding.
  const found = checks.filter((check) => distanceTo(check) <= distance * (1 + 1e-9));
  return { found, distance };
}
