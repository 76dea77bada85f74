import type { OutlineOfStrip } from '../harvest/applied-outlines.ts';
import type { AppliedGround, AppliedStrip } from '../harvest/applied-strips.ts';
import type { NamedProduct } from '../harvest/as-applied.ts';
import { factorOfAnotherKind, rateOffPlan } from '../harvest/rate-against-plan.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { AppliedOfTrial } from './applied-of-trial.ts';

/** What the logs of an application say, for a table and a drawing of the field. */
export interface AppliedShown {
  readonly strips: readonly AppliedRow[];
  readonly products: readonly NamedProduct[];
  /** Areas of the logs that could stand for the outlines of strips. */
  readonly outlines: readonly OutlineOfStrip[];
  readonly swaths: DrawnSwaths;
  /** Stretches that are not used, as corners [east, north] in local metres. */
  readonly leftOut: readonly (readonly (readonly [number, number])[])[];
}

/** One strip of the trial. */
export interface AppliedRow extends AppliedStrip {
  readonly id: string;
  /** Mean rate over the planned one, less 1; null: one is not known, or they cannot be compared. */
  readonly rateOffPlan: number | null;
}

/** Convex shapes one after the other, in local metres; shape k has the corners from `first[k]` up to `first[k + 1]`. */
export interface DrawnSwaths {
  /** East and north in turn. */
  readonly cornersM: Float64Array;
  readonly first: Int32Array;
  /** Index of the treatment that was to get it, the first of several; -1: of the trial nowhere. */
  readonly treatment: Int16Array;
}

export function appliedShown(trial: TrialDocument, { found, outlines }: AppliedOfTrial): AppliedShown | null {
  if (found === null) return null;
  const judged = found.strips.flatMap((strip) => {
    if (strip === null) return [];
    const { id, treatment } = trial.strips[strip.index]!;
    return [{ strip, id, treatment: trial.treatments.findIndex((own) => own.id === treatment) }];
  });
  const isComparable = trial.treatments.map((_, t) => {
    const rates = judged.flatMap(({ strip, treatment }) => (treatment === t ? [strip.rate] : []));
    return factorOfAnotherKind(trial, t, rates) === null;
  });
  const strips = judged.map(({ strip, id, treatment }): AppliedRow => {
    const off = isComparable[treatment] ? rateOffPlan(trial, treatment, strip.rate) : null;
    return { ...strip, id, rateOffPlan: off };
  });
  const leftOut = found.offPlan.flat().map(({ fromM, toM, oriented }) => {
    const corner = (along: number, across: number): readonly [number, number] => [
      oriented.centreEastM + along * oriented.alongEast + across * oriented.alongNorth,
      oriented.centreNorthM + along * oriented.alongNorth - across * oriented.alongEast,
    ];
    const half = oriented.widthM / 2;
    return [corner(fromM, -half), corner(fromM, half), corner(toM, half), corner(toM, -half)];
  });
  return { strips, products: found.products, outlines, swaths: drawnSwaths(found.ground), leftOut };
}

function drawnSwaths(ground: readonly AppliedGround[]): DrawnSwaths {
  const first = new Int32Array(ground.length + 1);
  ground.forEach(({ corners }, k) => {
    first[k + 1] = first[k]! + corners.length;
  });
  const cornersM = new Float64Array(2 * (first.at(-1) ?? 0));
  let at = 0;
  for (const { corners } of ground) {
    for (const [east, north] of corners) {
      cornersM[at++] = east;
      cornersM[at++] = north;
    }
  }
  return { cornersM, first, treatment: Int16Array.from(ground, ({ treatments }) => treatments[0] ?? -1) };
}
