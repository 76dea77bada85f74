import { M2_PER_HA } from '../trial/units.ts';
import type { MeasuredFile } from './measured-file.ts';
import { REASON_NUMBER } from './point-screens.ts';
import type { StripGround } from './strip-ground.ts';
import { SET_ASIDE_REASONS, type SetAsideReason, type StripValue, type Weighing } from './strip-values.ts';

export interface ScreenedFile {
  readonly file: MeasuredFile;
  /** 0 kept, else number of the reason. */
  readonly reason: Uint8Array;
}

/** All that the passes of a strip cut in it, ends included, before any screen: what a scale weighs. */
export interface CutInStrip {
  /** At standard moisture. */
  readonly massKg: number;
  readonly areaM2: number;
}

/** Reasons that say that a point cut nothing in the strip, or that nothing is known of it. */
const NOTHING_CUT = (['unreadable', 'outsideStrips', 'sideMargin', 'headerUp'] as const).map(
  (reason) => REASON_NUMBER[reason],
);

export interface PointCounts {
  readonly read: number;
  readonly kept: number;
  readonly setAside: Readonly<Partial<Record<SetAsideReason, number>>>;
}

/** Running totals of one strip. Weights are ground, or 1 a point where the ground is not known. */
class StripTotals {
  weight = 0;
  /** Of all points of the strip's passes with the header down, ends included, whatever the screens say. */
  cutAreaM2 = 0;
  cutMassKg = 0;
  weightedYield = 0;
  wetMass = 0;
  wetMassMoisture = 0;
  read = 0;
  kept = 0;
  /** Mean and sum of squared deviations of point yields, updated as in Welford (1962) Technometrics 4:419-420. */
  meanYield = 0;
  squares = 0;
  readonly setAside = new Int32Array(SET_ASIDE_REASONS.length + 1);
}

/**
 * A strip's yield is mass over area: the sum of its kept points' masses at standard moisture over the sum of their
 * ground, whatever the points' own yields average. Where any file lacks ground, all points of all files weigh alike.
 * Moisture is weighted by wet mass. The spread within the strip is shown and never used as error.
 */
export function stripValues(
  files: readonly ScreenedFile[],
  strips: readonly { readonly id: string; readonly ground: StripGround | null }[],
): {
  readonly strips: readonly StripValue[];
  readonly weighing: Weighing;
  readonly totals: PointCounts;
  /** One a strip; null where the ground is not known in m². */
  readonly cut: readonly (CutInStrip | null)[];
} {
  const weighing: Weighing = files.some(({ file }) => file.ground.kind === 'equal') ? 'equal' : 'area';
  const isAreaKnown = files.every(({ file }) => file.ground.kind === 'area');
  const hasMoisture = files.some(({ file }) => file.moisturePercent !== null);
  const totals = strips.map(() => new StripTotals());
  const outside = new StripTotals();
  for (const screened of files) addFile(screened, totals, outside, weighing);
  return {
    strips: strips.map(({ id, ground }, index) =>
      stripValue(id, ground, totals[index]!, { isAreaKnown, hasMoisture }),
    ),
    weighing,
    cut: totals.map(({ cutAreaM2, cutMassKg }) =>
      isAreaKnown && cutAreaM2 > 0 ? { areaM2: cutAreaM2, massKg: cutMassKg } : null,
    ),
    totals: allCounts([...totals, outside]),
  };
}

function addFile(
  { file, reason }: ScreenedFile,
  totals: readonly StripTotals[],
  outside: StripTotals,
  weighing: Weighing,
): void {
  for (let i = 0; i < reason.length; i++) {
    const total = totals[file.strip[i]!] ?? outside;
    total.read += 1;
    if (reason[i] === 0 || !NOTHING_CUT.includes(reason[i]!)) addCut(total, file, i);
    if (reason[i] !== 0) total.setAside[reason[i]!]! += 1;
    else addPoint(total, file, i, weighing === 'area' ? file.ground.ground[i]! : 1);
  }
}

/** Mass that came while the machine stood belongs to what was cut before. */
function addCut(total: StripTotals, file: MeasuredFile, i: number): void {
  const { ground } = file.ground;
  const massKg = file.massAtStandard?.[i] ?? (file.yieldAtStandardKgPerHa[i]! * ground[i]!) / M2_PER_HA;
  if (Number.isNaN(massKg)) return;
  total.cutAreaM2 += ground[i]!;
  total.cutMassKg += massKg;
}

function addPoint(total: StripTotals, file: MeasuredFile, i: number, weight: number): void {
  const yieldKgPerHa = file.yieldAtStandardKgPerHa[i]!;
  total.kept += 1;
  total.weight += weight;
  total.weightedYield += weight * yieldKgPerHa;
  const step = yieldKgPerHa - total.meanYield;
  total.meanYield += step / total.kept;
  total.squares += step * (yieldKgPerHa - total.meanYield);
  const moisture = file.moisturePercent?.[i] ?? Number.NaN;
  if (Number.isNaN(moisture)) return;
  const wetMass = weight * wetYield(file, yieldKgPerHa, moisture);
  total.wetMass += wetMass;
  total.wetMassMoisture += wetMass * moisture;
}

/** Yield as it came off the field; where the yields' own moisture is not known, as recorded. */
function wetYield(file: MeasuredFile, yieldAtStandard: number, moisture: number): number {
  const { correction } = file;
  if (correction.kind === 'none') return yieldAtStandard;
  return (yieldAtStandard * (100 - correction.standardPercent)) / (100 - moisture);
}

function stripValue(
  id: string,
  ground: StripGround | null,
  total: StripTotals,
  known: { readonly isAreaKnown: boolean; readonly hasMoisture: boolean },
): StripValue {
  const hasValue = total.kept > 0 && total.weight > 0;
  const moisture = total.wetMass > 0 ? total.wetMassMoisture / total.wetMass : null;
  const sd = total.kept > 1 ? Math.sqrt(total.squares / (total.kept - 1)) : null;
  return {
    strip: id,
    values: {
      yield: hasValue ? total.weightedYield / total.weight : null,
      ...(known.hasMoisture ? { moisture } : {}),
    },
    areaM2: ground?.areaM2 ?? null,
    harvestedAreaM2: hasValue && known.isAreaKnown ? total.weight : null,
    pointsRead: total.read,
    pointsKept: total.kept,
    pointsSetAside: reasonCounts(total.setAside),
    subSamples: null,
    cvWithinPercent: sd === null || total.meanYield <= 0 ? null : (100 * sd) / total.meanYield,
  };
}

function reasonCounts(counts: Int32Array): Partial<Record<SetAsideReason, number>> {
  return Object.fromEntries(
    SET_ASIDE_REASONS.map((name) => [name, counts[REASON_NUMBER[name]]!] as const).filter(
      ([, count]) => count > 0,
    ),
  );
}

function allCounts(totals: readonly StripTotals[]): PointCounts {
  const setAside = new Int32Array(SET_ASIDE_REASONS.length + 1);
  let [read, kept] = [0, 0];
  for (const total of totals) {
    read += total.read;
    kept += total.kept;
    total.setAside.forEach((count, number) => {
      setAside[number]! += count;
    });
  }
  return { read, kept, setAside: reasonCounts(setAside) };
}
