import { greatCircleKm } from '../geometry/great-circle.ts';
import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { ApplicationFile, TrialDocument } from '../trial/trial-document.ts';
import type { ApplicationInput } from './application-input.ts';
import { appliedProblems } from './applied-problems.ts';
import { type AppliedGround, type AppliedStrip, judgeStrips } from './applied-strips.ts';
import type { CutStretch } from './excluded-ground.ts';
import { loggedSwaths } from './logged-swaths.ts';
import { expectsSomething, type ProductMeaning, productMeaning } from './product-meaning.ts';
import { treatmentByRate } from './rate-against-plan.ts';
import { type StripGround, stripGrounds } from './strip-ground.ts';

/** A log with what the user said about it. */
export interface GivenLog {
  readonly asked: ApplicationFile;
  readonly log: ApplicationInput;
}

/** A name of a product in a log, and what it is taken to mean. */
export interface NamedProduct {
  readonly file: string;
  readonly name: string;
  readonly rows: number;
  readonly meaning: ProductMeaning;
}

/** What the logs say about the trial's strips. */
export interface AsApplied {
  readonly frame: LocalFrame;
  /** One a strip of the trial; null where it has no outline, or one that crosses itself. */
  readonly strips: readonly (AppliedStrip | null)[];
  /** By the strip's index: stretches that are not used. */
  readonly offPlan: readonly (readonly CutStretch[])[];
  /** One a treatment: is coverage asked of its strips? */
  readonly isAsked: readonly boolean[];
  readonly ground: readonly AppliedGround[];
  readonly products: readonly NamedProduct[];
}

/** Where the strips lie, one a strip of the trial; null: no ground is known. */
export interface GroundOfStrips {
  readonly frame: LocalFrame;
  readonly grounds: readonly (StripGround | null)[];
}

function drawnGround({ strips }: TrialDocument): GroundOfStrips | null {
  const frame = frameOfStrips(strips);
  if (frame === null) return null;
  const byIndex = new Map(stripGrounds(strips, frame).map((ground) => [ground.index, ground]));
  return { frame, grounds: strips.map((_, index) => byIndex.get(index) ?? null) };
}

/**
 * Which ground of the trial got what it was to get? The ground is that of the strips' outlines, unless what their
 * passes cut is handed over; null where there is neither. Logs of which a product's
 * meaning is not known are left out of account with that product, and the question is among the problems.
 */
export function asApplied(
  trial: TrialDocument,
  logs: readonly GivenLog[],
  known: GroundOfStrips | null = drawnGround(trial),
): { readonly found: AsApplied | null; readonly problems: readonly Problem[] } {
  if (known === null) return { found: null, problems: [problem('error', 'noStripPolygons')] };
  const { frame, grounds } = known;
  const laid = logs.map((given) => laidOut(trial, given, frame, grounds));
  const ground = laid.flatMap((one) => one.ground);
  const isLogged = trial.treatments.map((_, t) => ground.some(({ treatments }) => treatments.includes(t)));
  const isAsked = trial.treatments.map((treatment, t) => isLogged[t]! && expectsSomething(treatment));
  const indexOf = new Map(trial.treatments.map(({ id }, t) => [id, t]));
  const treatmentOf = trial.strips.map(({ treatment }) => indexOf.get(treatment) ?? -1);
  const judged = judgeStrips({
    grounds,
    treatmentOf,
    isAsked,
    plannedProduct: trial.treatments.map(({ planned }) => planned?.product ?? null),
    applied: ground,
    settings: trial.harvest,
  });
  const strips = judged.map((one) => one?.strip ?? null);
  const offPlan = judged.map((one, index) => {
    if (one === null) return [];
    const isOfAnother = treatmentByRate(trial, treatmentOf[index]!, one.strip.rate, ground) !== null;
    return isOfAnother ? wholeStrip(grounds[index]!) : one.offPlan;
  });
  const products = laid.flatMap((one) => one.products);
  const found = { frame, strips, offPlan, isAsked, ground, products };
  return { found, problems: [...laid.flatMap((one) => one.problems), ...appliedProblems(trial, found)] };
}

function wholeStrip({ oriented }: StripGround): readonly CutStretch[] {
  return [{ fromM: -oriented.lengthM / 2, toM: oriented.lengthM / 2, oriented }];
}

interface LaidOut {
  readonly ground: readonly AppliedGround[];
  readonly products: readonly NamedProduct[];
  readonly problems: readonly Problem[];
}

function laidOut(
  trial: TrialDocument,
  { asked, log }: GivenLog,
  frame: LocalFrame,
  grounds: readonly (StripGround | null)[],
): LaidOut {
  const { file } = log;
  const { swaths, crossed } = loggedSwaths(log, localProjection(frame), asked.boomBehindM ?? null);
  const products = log.products.flatMap((name, index): NamedProduct[] => {
    const rows = rowsOf(log, index);
    return rows === 0 ? [] : [{ file, name, rows, meaning: productMeaning(trial, asked, name) }];
  });
  const meanings = log.products.map((name) => productMeaning(trial, asked, name));
  const ground = swaths.flatMap(({ corners, entry }): AppliedGround[] => {
    const product = log.product[entry]!;
    const meaning = meanings[product]!;
    if (meaning.kind === 'asked' || meaning.kind === 'apart') return [];
    return [
      {
        corners,
        rate: log.rate?.[entry] ?? Number.NaN,
        rateUnit: log.rateUnit,
        treatments: meaning.kind === 'treatments' ? meaning.treatments : [],
        productName: log.products[product]!,
      },
    ];
  });
  const problems: Problem[] = [...productProblems(trial, file, products)];
  if (crossed.length > 0) {
    const details = { areas: crossed.slice(0, 20).map(String), count: crossed.length };
    problems.push(problem('warning', 'areasCrossThemselves', { file }, details));
  }
  const corners = swaths.map((swath) => swath.corners);
  if (corners.length > 0 && !corners.some((shape) => meetsSome(shape, grounds))) {
    problems.push(
      problem('warning', 'logOnNoStrip', { file }, { distanceKm: distanceKm(corners[0]!, frame) }),
    );
  }
  return { ground, products, problems };
}

function rowsOf({ product, applied }: ApplicationInput, index: number): number {
  let rows = 0;
  for (let i = 0; i < product.length; i++) if (product[i] === index && applied[i] === 1) rows += 1;
  return rows;
}

function productProblems(trial: TrialDocument, file: string, products: readonly NamedProduct[]): Problem[] {
  const asked = products.filter(({ meaning }) => meaning.kind === 'asked').map(({ name }) => name);
  const problems: Problem[] = [];
  if (asked.length > 0) {
    problems.push(
      problem('warning', 'askProductMeaning', { file }, { products: asked, count: asked.length }),
    );
  }
  for (const { meaning } of products) {
    if (meaning.kind !== 'treatments' || !meaning.isTakenFor) continue;
    const treatment = trial.treatments[meaning.treatments[0] ?? -1]?.name ?? '';
    problems.push(problem('note', 'productTakenFor', { file }, { treatment }));
  }
  return problems;
}

type Shape = AppliedGround['corners'];

/** By boxes alone: a log of another field lies far away. */
function meetsSome(shape: Shape, grounds: readonly (StripGround | null)[]): boolean {
  return grounds.some((ground) => {
    if (ground === null) return false;
    const [east, north] = ground.centroid;
    const reachM = Math.hypot(ground.oriented.lengthM, ground.oriented.widthM) / 2;
    return shape.some(([x, y]) => Math.hypot(x - east, y - north) <= reachM + 50);
  });
}

function distanceKm(shape: Shape, frame: LocalFrame): number {
  const [east, north] = shape[0] ?? [0, 0];
  const [longitude, latitude] = localProjection(frame).toGeographic(east, north);
  const km = greatCircleKm(longitude, latitude, frame.originLongitude, frame.originLatitude);
  return Number(km.toPrecision(2));
}
