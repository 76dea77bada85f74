import { fitLinearModel } from '../../analyses/linear-model.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { factorOfStrips, groupingsOfStrips } from './test-by-design.ts';

/** A condition of the harvest that followed the treatments in part; shares are of the strips whose level is known. */
export interface PartlyLinedUp {
  readonly level: string;
  /** Names of the treatments whose strips had that level most and least often. */
  readonly most: string;
  readonly mostPercent: number;
  readonly least: string;
  readonly leastPercent: number;
  /** Of what is left of the condition within blocks (rows, columns), the share that goes with treatments. */
  readonly share: number;
}

/**
 * Half of what varies within blocks: were the condition a term of the model, the variance of the differences would double.
 * With two treatments in four blocks, a machine that cut three strips of one and one of the other just reaches it.
 */
const TIED_SHARE = 0.5;
const FEWEST_STRIPS = 2;
/** Sums of squares of zeros and ones below this are rounding. */
const NOTHING = 1e-9;

/**
 * Does a condition (a machine, a day) follow the treatments in part, though not wholly? For each of its levels, harvested
 * in at least two strips, the share of its variation within blocks that goes with treatments; the level that follows them
 * most, where that is at least half. A condition that changes from block to block alone follows nothing.
 *
 * @param levels - one a strip of the trial; null: not known
 * Source: the multiple correlation as inflation of variance, e.g. G. A. F. Seber & A. J. Lee (2003) Linear Regression
 * Analysis, 2nd ed., section 9.7; the threshold is our own.
 */
export function partlyLinedUp(
  trial: TrialDocument,
  levels: readonly (string | null)[],
): PartlyLinedUp | null {
  const known = trial.strips.flatMap((strip, s) => {
    const level = levels[s] ?? null;
    return level === null ? [] : [{ ...strip, level }];
  });
  const names = [...new Set(known.map(({ level }) => level))];
  const treatment = factorOfStrips(
    'treatment',
    known.map((strip) => strip.treatment),
  );
  if (names.length < 2 || treatment.levelCount < 2) return null;
  const terms = [...groupingsOfStrips(trial, known), treatment];
  const found = names.flatMap((level) => {
    const isIt = known.map((strip) => Number(strip.level === level));
    if (isIt.reduce((sum, one) => sum + one, 0) < FEWEST_STRIPS) return [];
    const fit = fitLinearModel({ origin: 0, deviations: isIt }, terms);
    const ss = isRefusal(fit) ? 0 : (fit.rows.find(({ term }) => term === 'treatment')?.ss ?? 0);
    const within = isRefusal(fit) ? 0 : ss + fit.error.ss;
    return within > NOTHING ? [{ level, share: ss / within }] : [];
  });
  const [first] = found.sort((a, b) => b.share - a.share);
  return first === undefined || first.share < TIED_SHARE - NOTHING
    ? null
    : { ...first, ...extremes(trial, known, first.level) };
}

function extremes(
  trial: TrialDocument,
  known: readonly { readonly treatment: string; readonly level: string }[],
  level: string,
): Omit<PartlyLinedUp, 'level' | 'share'> {
  const shares = trial.treatments.flatMap(({ id, name }) => {
    const own = known.filter(({ treatment }) => treatment === id);
    const percent = (100 * own.filter((strip) => strip.level === level).length) / own.length;
    return own.length === 0 ? [] : [{ name, percent }];
  });
  const ordered = [...shares].sort((a, b) => b.percent - a.percent);
  const [most, least] = [ordered[0]!, ordered.at(-1)!];
  return { most: most.name, mostPercent: most.percent, least: least.name, leastPercent: least.percent };
}
