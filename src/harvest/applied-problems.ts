import { rateUnit } from '../trial/display-units.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { RateUnit, TrialDocument } from '../trial/trial-document.ts';
import type { AppliedStrip, OtherProduct } from './applied-strips.ts';
import type { AsApplied } from './as-applied.ts';
import { expectsSomething, partsOfMix, productOf } from './product-meaning.ts';
import { factorOfAnotherKind, rateLimit, rateOffPlan, treatmentByRate } from './rate-against-plan.ts';

/** Limits above which something is worth saying; common practice, no source. */
const OTHER_SHARE = 0.05;
const TWICE_SHARE = 0.1;
const ASTRAY_SHARE = 0.05;
/** Below this share of a strip's core a swath that should not be there is the receiver's jitter. */
const JITTER_SHARE = 0.005;
/** Less than this share covered: the strip was not sprayed at all. */
const NOTHING_SHARE = 0.1;
/** More than half of the core got something else and less than half its own: the strip got another treatment. */
const MOSTLY = 0.5;

interface Named {
  readonly id: string;
  readonly treatment: number;
  readonly strip: AppliedStrip;
}

/** What is to be said of the strips: what each got against what it was to get. */
export function appliedProblems(trial: TrialDocument, found: AsApplied): Problem[] {
  const all = found.strips.flatMap((strip): Named[] => {
    if (strip === null) return [];
    const { id, treatment } = trial.strips[strip.index]!;
    return [{ id, treatment: trial.treatments.findIndex((own) => own.id === treatment), strip }];
  });
  const wrong = all.filter(gotAnother);
  const others = all.filter((one) => !wrong.includes(one));
  return [
    ...notLogged(trial, found),
    ...partsNotLogged(trial, found),
    ...wrong.map((one) => gotAnotherProblem(trial, one)),
    ...others.flatMap((one) => gotAnotherRate(trial, found, one)),
    ...coverageProblems(others),
    ...otherProducts(trial, others),
    ...rateProblems(trial, found, others),
    ...astray(others),
  ];
}

/** Nothing is asked where no log is in account at all. */
function notLogged(trial: TrialDocument, { ground, isAsked }: AsApplied): Problem[] {
  if (ground.length === 0) return [];
  const used = new Set(trial.strips.map(({ treatment }) => treatment));
  const treatments = trial.treatments
    .filter((treatment, t) => used.has(treatment.id) && expectsSomething(treatment) && !isAsked[t])
    .map(({ name }) => name);
  return treatments.length === 0 ? [] : [problem('warning', 'noLogOfTreatment', {}, { treatments })];
}

/** Of a tank mix that logs name part by part. What the user said a product means is not asked again. */
function partsNotLogged(trial: TrialDocument, { ground, isAsked }: AsApplied): Problem[] {
  return trial.treatments.flatMap((treatment, t) => {
    const parts = partsOfMix(productOf(treatment));
    if (!isAsked[t] || parts.length < 2) return [];
    const names = ground.flatMap(({ treatments, productName }) =>
      treatments.includes(t) ? [partsOfMix(productName)] : [],
    );
    const logged = new Set(names.flat());
    const isNamedByParts = names.every((own) => own.every((part) => parts.includes(part)));
    const products = productOf(treatment)
      .split('+')
      .map((part) => part.trim())
      .filter((part) => partsOfMix(part).some((own) => !logged.has(own)));
    if (!isNamedByParts || products.length === 0) return [];
    return [problem('warning', 'noLogOfPart', {}, { treatments: [treatment.name], products })];
  });
}

function gotAnother({ strip }: Named): boolean {
  return strip.otherShare > MOSTLY && (strip.coveredShare ?? 0) < MOSTLY;
}

function gotAnotherProblem(trial: TrialDocument, { id, treatment, strip }: Named): Problem {
  const [most] = strip.others;
  return problem(
    'warning',
    'stripGotAnother',
    {},
    {
      strip: id,
      planned: trial.treatments[treatment]?.name ?? '',
      product: most?.productName ?? '',
      treatments: namesOf(trial, most?.treatments ?? []),
      sharePercent: shown(100 * strip.otherShare),
    },
  );
}

function gotAnotherRate(
  trial: TrialDocument,
  { ground }: AsApplied,
  { id, treatment, strip }: Named,
): Problem[] {
  const other = treatmentByRate(trial, treatment, strip.rate, ground);
  if (other === null || strip.rate === null) return [];
  const isSmall = trial.treatments[treatment]?.planned?.inSmallUnits === true;
  const { label, perSi } = rateUnit(strip.rate.unit, trial.unitSystem, isSmall);
  const details = {
    strip: id,
    planned: trial.treatments[treatment]?.name ?? '',
    rate: shown(strip.rate.mean * perSi),
    unit: label,
    treatments: namesOf(trial, [other]),
  };
  return [problem('warning', 'stripGotAnotherRate', {}, details)];
}

function namesOf(trial: TrialDocument, treatments: readonly number[]): readonly string[] {
  return treatments.flatMap((t) => trial.treatments[t]?.name ?? []);
}

function coverageProblems(strips: readonly Named[]): Problem[] {
  const asked = strips.filter(({ strip }) => strip.coveredShare !== null);
  const bare = asked.filter(({ strip }) => (strip.coveredShare ?? 1) < NOTHING_SHARE);
  const skipped = asked.filter((one) => !bare.includes(one) && one.strip.skipped.length > 0);
  const twice = asked.filter(({ strip }) => (strip.twiceShare ?? 0) > TWICE_SHARE);
  return [
    ...about(bare, 'stripsNotCovered', () => ({})),
    ...about(skipped, 'stretchesSkipped', () => ({
      totalM: Math.round(skipped.reduce((sum, { strip }) => sum + strip.skippedM, 0)),
      mostM: Math.round(Math.max(...skipped.map(({ strip }) => strip.skippedM))),
    })),
    ...about(twice, 'coveredTwice', () => ({
      mostPercent: mostPercent(twice, ({ twiceShare }) => twiceShare),
    })),
  ];
}

/** Other products are said apart for strips that were to get nothing: there the least of it counts. */
function otherProducts(trial: TrialDocument, strips: readonly Named[]): Problem[] {
  const gets = ({ treatment }: Named) => {
    const own = trial.treatments[treatment];
    return own !== undefined && expectsSomething(own);
  };
  const mixed = strips.filter((one) => gets(one) && one.strip.otherShare > OTHER_SHARE);
  const unplanned = strips.filter((one) => !gets(one) && one.strip.otherShare > JITTER_SHARE);
  const details = (which: readonly Named[]) => ({
    products: [...new Set(which.flatMap(({ strip }) => strip.others.map(shownName)))],
    mostPercent: mostPercent(which, ({ otherShare }) => otherShare),
  });
  return [
    ...about(mixed, 'otherProductOnStrips', details),
    ...about(unplanned, 'appliedWithoutPlan', details),
  ];
}

function shownName({ productName }: OtherProduct): string {
  return productName === '' ? 'a product without a name' : productName;
}

function rateProblems(trial: TrialDocument, { ground }: AsApplied, strips: readonly Named[]): Problem[] {
  const limit = rateLimit(trial);
  const factors = trial.treatments.map((_, t) =>
    factorOfAnotherKind(
      trial,
      t,
      strips.flatMap(({ treatment, strip }) => (treatment === t ? [strip.rate] : [])),
    ),
  );
  const off = strips.flatMap((one) => {
    const share = rateOffPlan(trial, one.treatment, one.strip.rate);
    if (share === null || Math.abs(share) <= limit || factors[one.treatment] !== null) return [];
    return treatmentByRate(trial, one.treatment, one.strip.rate, ground) === null ? [{ ...one, share }] : [];
  });
  return [
    ...about(off, 'rateOffPlan', () => ({
      mostPercent: shown(100 * Math.max(...off.map(({ share }) => Math.abs(share)))),
      limitPercent: shown(100 * limit),
    })),
    ...factors.flatMap((factor, t) => {
      if (factor === null) return [];
      const details = { treatments: namesOf(trial, [t]), factor: shown(factor) };
      return [problem('warning', 'rateOfAnotherKind', {}, details)];
    }),
    ...unlikeUnits(trial, strips),
    ...mixesNotTold(trial, strips),
  ];
}

/** A planned mix of which strips got the parts, without a rate that the plan could be held against. */
function mixesNotTold(trial: TrialDocument, strips: readonly Named[]): Problem[] {
  const untold = trial.treatments.filter((treatment, t) => {
    const isMix = partsOfMix(productOf(treatment)).length > 1 && treatment.planned?.rate;
    const own = strips.filter((one) => one.treatment === t && (one.strip.coveredShare ?? 0) > MOSTLY);
    return isMix && own.some(({ strip }) => strip.hasRates) && own.every(({ strip }) => strip.rate === null);
  });
  if (untold.length === 0) return [];
  return [problem('note', 'mixRateNotTold', {}, { treatments: untold.map(({ name }) => name) })];
}

function unlikeUnits(trial: TrialDocument, strips: readonly Named[]): Problem[] {
  const unlike = strips.filter(({ treatment, strip }) => {
    const planned = trial.treatments[treatment]?.planned;
    return planned && planned.rate !== null && strip.rate !== null && strip.rate.unit !== planned.unit;
  });
  const [first] = unlike;
  if (first === undefined) return [];
  const treatments = namesOf(trial, [...new Set(unlike.map(({ treatment }) => treatment))]);
  const labelOf = (unit: RateUnit | undefined) =>
    unit === undefined ? '' : rateUnit(unit, trial.unitSystem).label;
  const planned = labelOf(trial.treatments[first.treatment]?.planned?.unit);
  const details = { treatments, logged: labelOf(first.strip.rate?.unit), planned };
  return [problem('warning', 'rateUnitsDiffer', {}, details)];
}

function astray(strips: readonly Named[]): Problem[] {
  const over = strips.filter(
    ({ strip }) => strip.astrayShare > ASTRAY_SHARE && strip.otherShare <= OTHER_SHARE,
  );
  return about(over, 'swathsAstray', () => ({
    mostPercent: mostPercent(over, ({ astrayShare }) => astrayShare),
    limitPercent: 100 * ASTRAY_SHARE,
  }));
}

function about(
  which: readonly Named[],
  code: string,
  details: (which: readonly Named[]) => Problem['details'],
): Problem[] {
  if (which.length === 0) return [];
  const strips = which.map(({ id }) => id);
  return [problem('warning', code, {}, { strips, count: which.length, ...details(which) })];
}

function mostPercent(which: readonly Named[], share: (strip: AppliedStrip) => number | null): number {
  return shown(100 * Math.max(...which.map(({ strip }) => share(strip) ?? 0)));
}

/** Three digits: a log knows no more. */
function shown(value: number): number {
  return Number(value.toPrecision(3));
}
