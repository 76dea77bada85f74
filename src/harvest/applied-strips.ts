import Flatbush from 'flatbush';
import { type ConvexShape, convexPieces } from '../geometry/convex-pieces.ts';
import { areaAlong, areaOf, coverGround, withinSides } from '../geometry/covered-ground.ts';
import { convexAreaM2, convexOverlapAreaM2 } from '../geometry/overlap.ts';
import { type HarvestSettings, RATE_UNITS, type RateUnit } from '../trial/trial-document.ts';
import { endsOf, sidesOf } from './applied-core.ts';
import type { CutStretch } from './excluded-ground.ts';
import { folded, partsOfMix } from './product-meaning.ts';
import type { StripGround } from './strip-ground.ts';

/** Ground on which a product was put, convex, in local metres. */
export interface AppliedGround {
  readonly corners: ConvexShape;
  /** In the unit of its log; NaN: not known. */
  readonly rate: number;
  readonly rateUnit: RateUnit | null;
  /** Treatments (indices) that were to get this product; none: it is of the trial nowhere. */
  readonly treatments: readonly number[];
  readonly productName: string;
}

/** From and to along a strip, in metres from the end where its axis begins. */
export interface StretchOfStrip {
  readonly fromM: number;
  readonly toM: number;
}

/** What one strip got, by the logs. Shares of 0 to 1 of the strip's core: without its side and end margins. */
export interface AppliedStrip {
  /** Index into the trial's strips. */
  readonly index: number;
  readonly coreM2: number;
  /** Under what was planned; null: nothing was, or no log holds it. */
  readonly coveredShare: number | null;
  /** Of the core, under two or more swaths of what was planned. */
  readonly twiceShare: number | null;
  /** Under any other product. */
  readonly otherShare: number;
  /** Names of those other products, the widest spread first. */
  readonly others: readonly OtherProduct[];
  /** Mean of what was planned, weighted by area, and its spread (SD over mean); null: no rate known. */
  readonly rate: AppliedRate | null;
  /** Did any log that covers it know a rate of what was planned? */
  readonly hasRates: boolean;
  /** Stretches left out that are at least `LEAST_SKIPPED_M` long, in order. */
  readonly skipped: readonly StretchOfStrip[];
  readonly skippedM: number;
  /** Of the whole strip, margins included, under products that it was not to get. */
  readonly astrayShare: number;
}

export interface OtherProduct {
  readonly productName: string;
  readonly treatments: readonly number[];
  readonly share: number;
}

export interface AppliedRate {
  readonly mean: number;
  /** null: the mean is a sum of means, whose spread over the strip is not known. */
  readonly cvPercent: number | null;
  readonly unit: RateUnit;
}

export interface JudgedStrip {
  readonly strip: AppliedStrip;
  /** Stretches, whole width, whose ground did not get what was planned: to be cut from what is used. */
  readonly offPlan: readonly CutStretch[];
}

/** Shorter gaps are where a boom opens and shuts (common practice, no source). */
export const LEAST_SKIPPED_M = 5;
/** Least share of a slice that got what was planned, and that got nothing else, for it to be used. */
const LEAST_SHARE = 0.9;
/** Slices across the strip in which coverage is judged. */
const SLICE_M = 1;

/**
 * What did each strip get? All swaths over a strip, those of its own product apart from those of others, cut against
 * its ground exactly; then slice by slice along it, so that stretches which were skipped, or got something else, can
 * be left out. A strip whose treatment was to get nothing has no coverage, but what lies on it is told and left out.
 */
export function judgeStrips(plan: StripsToJudge): readonly (JudgedStrip | null)[] {
  const { grounds, settings } = plan;
  const near = groundFinder(plan.applied);
  const under = grounds.map((ground, index): Omit<StripUnder, 'needed'> | null => {
    const pieces = ground === null ? null : convexPieces(ground.polygon);
    if (ground === null || pieces === null) return null;
    const treatment = plan.treatmentOf[index]!;
    const over = near(pieces);
    return {
      ground,
      pieces,
      treatment,
      own: over.filter(({ treatments }) => treatments.includes(treatment)),
      other: over.filter(({ treatments }) => !treatments.includes(treatment)),
      isAsked: plan.isAsked[treatment] ?? false,
      plannedProduct: plan.plannedProduct[treatment] ?? null,
    };
  });
  const needed = neededProducts(under, settings);
  return under.map((one) =>
    one === null ? null : judgedStrip({ ...one, needed: needed.get(one.treatment) ?? [[]] }, settings),
  );
}

export interface StripsToJudge {
  /** One a strip of the trial; null: without an outline. */
  readonly grounds: readonly (StripGround | null)[];
  /** Index of each strip's treatment; -1: none. */
  readonly treatmentOf: readonly number[];
  /** By treatment: is coverage asked, and which product was planned (null: not said)? */
  readonly isAsked: readonly boolean[];
  readonly plannedProduct: readonly (string | null)[];
  readonly applied: readonly AppliedGround[];
  readonly settings: HarvestSettings;
}

interface StripUnder {
  readonly ground: StripGround;
  readonly pieces: readonly ConvexShape[];
  readonly treatment: number;
  readonly own: readonly AppliedGround[];
  readonly other: readonly AppliedGround[];
  readonly isAsked: boolean;
  readonly plannedProduct: string | null;
  /** Products that the strip must have got, each by the names under which it stands in the logs. */
  readonly needed: readonly (readonly string[])[];
}

function judgedStrip(
  { ground, pieces, own, other, isAsked, needed, plannedProduct }: StripUnder,
  settings: HarvestSettings,
): JudgedStrip {
  const sides = sidesOf(ground, settings);
  const between = withinSides(pieces, sides);
  const ends = endsOf(ground, settings.endMarginM);
  const byOwn = coveredByAll(
    between,
    needed.map((names) => shapesOf(ofProducts(own, names))),
  );
  const byOther = coverGround(pieces, shapesOf(other));
  const core = withinSides(between, ends);
  const coreM2 = areaOf(core);
  const inCore = (shapes: readonly ConvexShape[]) => areaOf(withinSides(shapes, ends));
  const otherBare = withinSides(byOther.bare, sides);
  const share = (areaM2: number) => (coreM2 > 0 ? Math.min(1, Math.max(0, areaM2 / coreM2)) : 0);
  const slices = offPlanSlices(ground, between, isAsked ? byOwn.covered : between, otherBare);
  const skipped = slices.map(({ fromM, toM }) => within(fromM, toM, ground, settings.endMarginM));
  const long = skipped.filter(({ fromM, toM }) => toM - fromM >= LEAST_SKIPPED_M - 1e-9);
  return {
    strip: {
      index: ground.index,
      coreM2,
      coveredShare: isAsked && coreM2 > 0 ? share(inCore(byOwn.covered)) : null,
      twiceShare: isAsked && coreM2 > 0 ? Math.max(...byOwn.twice.map((more) => share(inCore(more)))) : null,
      otherShare: share(coreM2 - inCore(otherBare)),
      others: othersOn(core, coreM2, other),
      rate: isAsked ? rateOfPlanned(core, own, plannedProduct, needed) : null,
      hasRates: own.some(({ rate, rateUnit }) => rateUnit !== null && !Number.isNaN(rate)),
      skipped: long,
      skippedM: long.reduce((sum, { fromM, toM }) => sum + toM - fromM, 0),
      astrayShare: Math.max(0, 1 - areaOf(byOther.bare) / byOther.areaM2),
    },
    offPlan: slices.map((stretch) => ({ ...stretch, oriented: ground.oriented })),
  };
}

function shapesOf(applied: readonly AppliedGround[]): readonly ConvexShape[] {
  return applied.map(({ corners }) => corners);
}

/** A strip of a treatment that gets several products must have got each; this share of its strips tells that it is one of them. */
const NEEDED_SHARE = 2 / 3;

/**
 * Which products must a strip of each treatment have got? A treatment may get several, in one pass or on several days,
 * and one product may stand in two logs under two names. Names that cover more than half of two thirds of the
 * treatment's strips are products of their own, each needed; without any such, all names together are one.
 */
function neededProducts(
  strips: readonly (Omit<StripUnder, 'needed'> | null)[],
  settings: HarvestSettings,
): ReadonlyMap<number, readonly (readonly string[])[]> {
  const asked = strips.filter((strip) => strip?.isAsked === true);
  const treatments = new Set(asked.map((strip) => strip?.treatment ?? -1));
  return new Map(
    [...treatments].map((treatment) => {
      const own = asked.flatMap((strip) => (strip?.treatment === treatment ? [strip] : []));
      const names = [
        ...new Set(own.flatMap((strip) => strip.own.map(({ productName }) => folded(productName)))),
      ];
      if (names.length < 2) return [treatment, [names]];
      const needed = names.filter((name) => {
        const got = own.filter((strip) => {
          const between = withinSides(strip.pieces, sidesOf(strip.ground, settings));
          const { areaM2, bare } = coverGround(between, shapesOf(ofProducts(strip.own, [name])));
          return areaOf(bare) < areaM2 / 2;
        });
        return got.length >= NEEDED_SHARE * own.length;
      });
      return [treatment, needed.length === 0 ? [names] : needed.map((name) => [name])];
    }),
  );
}

function ofProducts(applied: readonly AppliedGround[], names: readonly string[]): readonly AppliedGround[] {
  return applied.filter(({ productName }) => names.includes(folded(productName)));
}

/**
 * The rate of the planned product counts. Where none has its name, that of all, unless they are several products that
 * the strip must have got each: those have a rate together only as the parts of the planned mix.
 */
function rateOfPlanned(
  core: readonly ConvexShape[],
  own: readonly AppliedGround[],
  product: string | null,
  needed: StripUnder['needed'],
): AppliedRate | null {
  const named = product === null ? [] : ofProducts(own, [folded(product)]);
  if (named.length > 0) return meanRate(core, named);
  if (needed.length < 2) return meanRate(core, own);
  if (product === null || !areItsParts(product, needed)) return null;
  return sumOfParts(needed.map((names) => meanRate(core, ofProducts(own, names))));
}

/** Are the products all the parts of the mix, each once? */
function areItsParts(mix: string, products: StripUnder['needed']): boolean {
  const parts = products.flat().flatMap(partsOfMix).sort();
  const wanted = partsOfMix(mix);
  return parts.length === wanted.length && parts.every((part, k) => part === wanted[k]);
}

/** Parts with rates nearer to each other than this share may all carry the rate of the whole mix. */
const ALIKE_SHARE = 0.02;

/** What was put out of a mix that was logged tank by tank. null: of one part it is not known, or units or rates do not tell. */
function sumOfParts(rates: readonly (AppliedRate | null)[]): AppliedRate | null {
  const known = rates.filter((rate) => rate !== null);
  const [first] = known;
  if (first === undefined || known.length < rates.length) return null;
  if (known.some(({ unit }) => unit !== first.unit)) return null;
  const means = known.map(({ mean }) => mean);
  const largest = Math.max(...means);
  if (largest - Math.min(...means) <= ALIKE_SHARE * largest) return null;
  return { mean: means.reduce((sum, mean) => sum + mean, 0), cvPercent: null, unit: first.unit };
}

/** Ground that lies under each of the products, and per product what lies under it twice. */
function coveredByAll(
  ground: readonly ConvexShape[],
  products: readonly (readonly ConvexShape[])[],
): { readonly covered: readonly ConvexShape[]; readonly twice: readonly (readonly ConvexShape[])[] } {
  let covered = ground;
  const twice = products.map((shapes) => {
    const { once, more } = coverGround(covered, shapes);
    covered = [...once, ...more];
    return more;
  });
  return { covered, twice };
}

/** Stretches of neighbouring slices in which too little is treated, or too much got something else. */
function offPlanSlices(
  { oriented }: StripGround,
  between: readonly ConvexShape[],
  ownCovered: readonly ConvexShape[],
  otherBare: readonly ConvexShape[],
): readonly StretchOfStrip[] {
  const count = Math.max(1, Math.round(oriented.lengthM / SLICE_M));
  const slices = { fromM: -oriented.lengthM / 2, stepM: oriented.lengthM / count, count };
  const ground = areaAlong(between, oriented, slices);
  const covered = areaAlong(ownCovered, oriented, slices);
  const clean = areaAlong(otherBare, oriented, slices);
  const stretches: { fromM: number; toM: number }[] = [];
  for (let k = 0; k < count; k++) {
    const areaM2 = ground[k]!;
    const least = LEAST_SHARE * areaM2 - 1e-9;
    const isOff = areaM2 > 0 && (covered[k]! < least || clean[k]! < least);
    if (!isOff) continue;
    const fromM = slices.fromM + k * slices.stepM;
    const last = stretches.at(-1);
    if (last !== undefined && Math.abs(last.toM - fromM) < slices.stepM / 2) last.toM = fromM + slices.stepM;
    else stretches.push({ fromM, toM: fromM + slices.stepM });
  }
  return stretches;
}

/** The part of a stretch between the end margins, from the end where the axis begins. */
function within(fromM: number, toM: number, { oriented }: StripGround, marginM: number): StretchOfStrip {
  const half = oriented.lengthM / 2;
  const clamp = (along: number) => Math.min(2 * half - marginM, Math.max(marginM, along + half));
  return { fromM: clamp(fromM), toM: Math.max(clamp(fromM), clamp(toM)) };
}

function othersOn(
  core: readonly ConvexShape[],
  coreM2: number,
  other: readonly AppliedGround[],
): readonly OtherProduct[] {
  const names = [...new Set(other.map(({ productName }) => productName))];
  return names
    .map((productName) => {
      const own = other.filter((one) => one.productName === productName);
      const share = coreM2 > 0 ? 1 - areaOf(coverGround(core, shapesOf(own)).bare) / coreM2 : 0;
      return { productName, treatments: own[0]?.treatments ?? [], share };
    })
    .filter(({ share }) => share > 1e-9)
    .sort((a, b) => b.share - a.share);
}

/** Weighted by the area of each swath in the core; of the unit that most of it stands in. */
function meanRate(core: readonly ConvexShape[], own: readonly AppliedGround[]): AppliedRate | null {
  const weighed = own.flatMap(({ corners, rate, rateUnit }) => {
    if (rateUnit === null || Number.isNaN(rate)) return [];
    const areaM2 = core.reduce((sum, piece) => sum + convexOverlapAreaM2(corners, piece), 0);
    return areaM2 > 0 ? [{ areaM2, rate, rateUnit }] : [];
  });
  const total = (unit: RateUnit) =>
    weighed.reduce((sum, { areaM2, rateUnit }) => sum + (rateUnit === unit ? areaM2 : 0), 0);
  const unit = RATE_UNITS.reduce((most, one) => (total(one) > total(most) ? one : most), 'L/ha');
  const areaM2 = total(unit);
  if (!(areaM2 > 0)) return null;
  const inUnit = weighed.filter(({ rateUnit }) => rateUnit === unit);
  const mean = inUnit.reduce((sum, one) => sum + one.areaM2 * one.rate, 0) / areaM2;
  const variance = inUnit.reduce((sum, one) => sum + one.areaM2 * (one.rate - mean) ** 2, 0) / areaM2;
  return { mean, cvPercent: mean > 0 ? (100 * Math.sqrt(variance)) / mean : 0, unit };
}

/** The grounds whose boxes meet a strip's. */
function groundFinder(
  applied: readonly AppliedGround[],
): (pieces: readonly ConvexShape[]) => readonly AppliedGround[] {
  const sound = applied.filter(({ corners }) => convexAreaM2(corners) > 0);
  if (sound.length === 0) return () => [];
  const tree = new Flatbush(sound.length);
  for (const { corners } of sound) tree.add(...boxOf(corners));
  tree.finish();
  // In the order of the logs, so that results do not hang on how the tree was built.
  return (pieces) =>
    tree
      .search(...boxOf(pieces.flat()))
      .sort((a, b) => a - b)
      .map((index) => sound[index]!);
}

function boxOf(corners: ConvexShape): [number, number, number, number] {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
