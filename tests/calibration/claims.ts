import { dunnettDistribution } from '../../analyses/distributions/dunnett-distribution.ts';
import { fUpperQuantile } from '../../analyses/distributions/f.ts';
import { noncentralFUpperTail } from '../../analyses/distributions/noncentral-f.ts';
import { noncentralTUpperTail } from '../../analyses/distributions/noncentral-t.ts';
import { studentizedRange } from '../../analyses/distributions/studentized-range.ts';
import { falseRealChance } from '../../analyses/false-real-chance.ts';
import { powerTwoSidedT } from '../../analyses/power-two-sided-t.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { ALPHAS, type Cell, isStrained, WIDE_MARGIN } from './cells.ts';
import { familiesOf, label, verdictFamily } from './counted-trials.ts';
import { type CriticalValues, criticalValues, type Family, fittedTrial } from './short-cut.ts';
import { trialsOf } from './simulated-plots.ts';

/**
 * What the share of trials must be. `exactly`, `atMost`, `atLeast`: but for chance, at z = 4.5; `near`: within 0.01.
 * Whatever has no claim is shown as it is.
 */
export interface Claim {
  readonly rule: 'exactly' | 'atMost' | 'atLeast' | 'near';
  readonly share: number;
}

export type Claims = ReadonlyMap<string, Claim>;

/** All claims about one cell, computed, not simulated. */
export function claimsOf(cell: Cell): Claims {
  const fitted = fittedTrial(trialsOf(cell)().response);
  const claims = new Map<string, Claim>();
  for (const alpha of ALPHAS) {
    const critical = criticalValues(fitted, alpha);
    const at = { cell, critical, df: fitted.means.error.df };
    for (const [what, claim] of CLAIMS[cell.question](at)) claims.set(label(what, alpha), claim);
  }
  return claims;
}

interface Where {
  readonly cell: Cell;
  readonly critical: CriticalValues;
  readonly df: number;
}

type NamedClaim = readonly [what: string, claim: Claim];

const CLAIMS: Readonly<Record<Cell['question'], (where: Where) => NamedClaim[]>> = {
  falseReal: (where) => (isStrained(where.cell) ? [] : [...falseRealClaims(where), ...coverageClaims(where)]),
  power: powerClaims,
  verdicts: verdictClaims,
};

const exactly = (share: number): Claim => ({ rule: 'exactly', share });
const atMost = (share: number): Claim => ({ rule: 'atMost', share });

function falseRealClaims(where: Where): NamedClaim[] {
  return familiesOf(where.cell).flatMap((family) => {
    const claim = falseRealClaim(family, where);
    return claim === null ? [] : [[`false real: ${family.name}`, claim] as const];
  });
}

/** null: no level is promised, and the chance has no closed form. */
function falseRealClaim(family: Family, where: Where): Claim | null {
  const { cell, critical } = where;
  if (cell.treatments === 2) return exactly(critical.alpha);
  const guards = family.procedure !== 'lsd' && family.procedure !== 'protectedLsd';
  if (cell.lost.length > 0) return guards ? atMost(critical.alpha) : null;
  if (family.procedure === 'protectedLsd') return protectedClaim(where);
  const moved = movedCount(cell);
  if (family.procedure === 'holm' && moved > 0) return atMost(critical.alpha);
  if (family.kind === 'againstCheck') return exactly(anyAgainstCheck(family, where));
  if (moved <= 1) return exactly(anyPairAmong(cell.treatments - moved, family, where));
  return guards ? atMost(critical.alpha) : null;
}

/** Exactly alpha where theory says so; with one far off never more than F guarding nothing among the others. */
function protectedClaim({ cell, critical, df }: Where): Claim | null {
  const chance = falseRealChance(cell.treatments, df, critical.alpha);
  if (isRefusal(chance)) throw new Error(`expected a chance, got the refusal ${chance.code}`);
  if (movedCount(cell) === 0)
    return chance.protectedIsExact ? exactly(critical.alpha) : atMost(critical.alpha);
  if (movedCount(cell) > 1 || chance.protectedOneDiffers === null) return null;
  return atMost(chance.protectedOneDiffers);
}

const movedCount = ({ shifts }: Cell) => shifts.filter((shift) => shift !== 0).length;

/** Holm's first step is Bonferroni's, and that decides whether anything is called real where all are alike. */
function criticalOf({ kind, procedure, name }: Family, { critical }: Where): number {
  if (procedure !== 'holm') return critical.of[name];
  return critical.of[kind === 'allPairs' ? 'bonferroni, all pairs' : 'bonferroni, against the check'];
}

function anyPairAmong(alike: number, family: Family, where: Where): number {
  return studentizedRange(alike, where.df).upperTail(Math.SQRT2 * criticalOf(family, where));
}

/** The treatments that are as the check is. */
function anyAgainstCheck(family: Family, where: Where): number {
  const alike = where.cell.treatments - 1 - movedCount(where.cell);
  const loadings = new Array<number>(alike).fill(Math.SQRT1_2);
  return dunnettDistribution(loadings, where.df, 'two').upperTail(criticalOf(family, where));
}

function coverageClaims(where: Where): NamedClaim[] {
  const { cell, critical } = where;
  const level = 1 - critical.alpha;
  const together = familiesOf(cell).flatMap((family): NamedClaim[] => {
    const what = `intervals that hold together: ${family.name}`;
    const isExact = family.procedure === 'tukey' || family.procedure === 'dunnett' || cell.treatments === 2;
    if (isExact && cell.lost.length === 0) return [[what, exactly(level)]];
    if (isExact || family.procedure === 'bonferroni') return [[what, { rule: 'atLeast', share: level }]];
    return [];
  });
  return [
    ...together,
    ['interval of one pair holds', exactly(level)],
    ['interval of one mean holds', exactly(level)],
  ];
}

function powerClaims(where: Where): NamedClaim[] {
  const { cell, critical, df } = where;
  const found = familiesOf(cell)
    .filter(({ procedure }) => procedure !== 'holm' && procedure !== 'protectedLsd')
    .map((family): NamedClaim => [`found: ${family.name}`, near(powerOf(family, where))]);
  const last = cell.shifts[cell.treatments - 1] ?? 0;
  const noncentrality = cell.blocks * last ** 2 * (1 - 1 / cell.treatments);
  const criticalF = fUpperQuantile(critical.alpha, cell.treatments - 1, df);
  const ofF = noncentralFUpperTail(criticalF, cell.treatments - 1, df, noncentrality);
  return [...found, ['significant F of treatments', near(ofF)]];
}

const near = (share: number): Claim => ({ rule: 'near', share });

/** Of finding the last treatment's difference from the check. */
function powerOf(family: Family, { cell, critical, df }: Where): number {
  const shift = inStandardErrors(cell.shifts[cell.treatments - 1] ?? 0, cell);
  if (family.procedure === 'lsd') return powerTwoSidedT(shift, df, critical.alpha);
  return eitherTail(critical.of[family.name], df, shift);
}

const inStandardErrors = (difference: number, { blocks }: Cell) => difference / Math.sqrt(2 / blocks);

function eitherTail(critical: number, df: number, shift: number): number {
  return noncentralTUpperTail(critical, df, shift) + noncentralTUpperTail(critical, df, -shift);
}

/** From here on the standard error is never so large that the two tests of equivalence meet across a wide margin. */
const ENOUGH_DF = 7;

function verdictClaims(where: Where): NamedClaim[] {
  const { cell, critical, df } = where;
  const truth = cell.shifts[1] ?? 0;
  const family = verdictFamily(cell);
  const found = eitherTail(critical.of[family.name], df, inStandardErrors(truth, cell));
  const claims: NamedClaim[] = [
    ['called real', exactly(found)],
    ['wrong about money, any comparison', atMost(critical.alpha)],
  ];
  if (truth < (cell.margin ?? 0)) return claims;
  const isExact = truth === cell.margin && truth >= WIDE_MARGIN && df >= ENOUGH_DF;
  return [
    ...claims,
    ['wrong Same, one comparison', isExact ? exactly(critical.alpha) : atMost(critical.alpha)],
  ];
}
