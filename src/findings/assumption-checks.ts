import { bartlett } from '../../analyses/bartlett.ts';
import { brownForsythe } from '../../analyses/brown-forsythe.ts';
import { nonadditivity } from '../../analyses/nonadditivity.ts';
import { pitmanMorgan } from '../../analyses/pitman-morgan.ts';
import { isRefusal, type Refusal } from '../../analyses/refusal.ts';
import { residualTrend } from '../../analyses/residual-trend.ts';
import { roundingSumOfSquares } from '../../analyses/rounding-noise.ts';
import { shapiroWilk } from '../../analyses/shapiro-wilk.ts';
import { studentizedResiduals } from '../../analyses/studentized-residuals.ts';
import {
  type CheckFigures,
  type CheckId,
  checkInDoubt,
  checkRefused,
  checkSentences,
  DOUBT_LEVEL,
  stripWords,
} from '../words/check-sentences.ts';
import { SMALL_ERROR_DF_CHECK } from '../words/weakening-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { blockPairs, differencesOfPairs } from './block-pairs.ts';
import type { ReportCheck } from './report-model.ts';
import { isPlain } from './response-plots.ts';

/** A check with, where it is in doubt, the sentence that weakens every answer. */
export interface AssumptionCheck {
  readonly row: ReportCheck;
  readonly weakens: string | null;
}

type TestId = Exclude<CheckId, 'sensitivity'>;
/** Figures of a test, or the code of the reason why there are none. */
type Tested = CheckFigures | string;

/** Below so many error df no check can see much. */
export const FEW_FOR_CHECKS = 8;
/** Shapiro-Wilk's approximation was made for no more. */
const MOST_FOR_SHAPIRO_WILK = 5000;

/**
 * What the analysis takes for granted, tested as far as the data carry it. Two treatments in blocks are tested on their
 * pairs, since residuals of a block are then plus and minus half its difference. Nothing is removed or transformed.
 */
export function assumptionChecks(analysed: AnalysedResponse): readonly AssumptionCheck[] {
  const { fit } = analysed.fitted;
  const few = fit.error.df < FEW_FOR_CHECKS ? [{ row: smallErrorDf(fit.error.df), weakens: null }] : [];
  if (fit.error.df === 0) return few;
  const pairs =
    isPlain(analysed.response) && analysed.names.length === 2 ? blockPairs(0, 1, analysed.design) : null;
  const ofSpread: readonly (readonly [TestId, Tested])[] =
    pairs === null
      ? [
          ['normality', normality(fit.residuals)],
          ['equalVariances', figuresOf(bartlett(residualsByTreatment(analysed)), 'chiSquared')],
          ['equalVariancesSturdy', figuresOf(brownForsythe(residualsByTreatment(analysed)), 'f')],
        ]
      : [
          ['normalityOfDifferences', normality(differencesOfPairs(pairs))],
          ['equalVariancesOfPair', figuresOf(pitmanMorgan(pairs.pairs), 't')],
        ];
  const tests: readonly (readonly [TestId, Tested])[] = [
    ...ofSpread,
    ...(analysed.design.blockOfPlot === null ? [] : [['additivity', additivity(analysed)] as const]),
    ['outlyingStrip', outlyingStrip(analysed)],
    ['trendAcrossField', trendAcrossField(analysed)],
  ];
  return [...few, ...saidOnce(tests.map(([id, tested]) => checkOf(id, tested)))];
}

/** Where both tests of equal variances are in doubt, the first says what that does to the answers. */
function saidOnce(checks: readonly AssumptionCheck[]): readonly AssumptionCheck[] {
  const isBartlettInDoubt = checks.some(
    ({ row, weakens }) => row.id === 'equalVariances' && weakens !== null,
  );
  return checks.map((check) =>
    isBartlettInDoubt && check.row.id === 'equalVariancesSturdy' ? { ...check, weakens: null } : check,
  );
}

/** For models whose errors are reckoned elsewhere: how much can be seen at all, and whether the residuals look normal. */
export function residualChecks(
  fewestErrorDf: number,
  residuals: readonly number[],
): readonly AssumptionCheck[] {
  const few = fewestErrorDf < FEW_FOR_CHECKS ? [{ row: smallErrorDf(fewestErrorDf), weakens: null }] : [];
  return [...few, checkOf('normality', normality(residuals))];
}

function smallErrorDf(df: number): ReportCheck {
  return {
    ...SMALL_ERROR_DF_CHECK,
    id: 'sensitivity',
    statisticName: 'error df',
    statistic: df,
    p: null,
    inDoubt: null,
  };
}

function checkOf(id: TestId, tested: Tested): AssumptionCheck {
  if (typeof tested === 'string')
    return {
      row: { id, ...checkRefused(id, tested), statistic: null, p: null, inDoubt: null },
      weakens: null,
    };
  const inDoubt = tested.p < DOUBT_LEVEL;
  const { statistic, p } = tested;
  return {
    row: { id, ...checkSentences(id, tested), statistic, p, inDoubt },
    weakens: inDoubt ? checkInDoubt(id, tested) : null,
  };
}

function figuresOf<K extends string>(
  result: (Readonly<Record<K, number | null>> & { readonly p: number }) | Refusal,
  statistic: K,
): Tested {
  if (isRefusal(result)) return result.code;
  const value: number | null = result[statistic];
  return value === null ? 'noErrorVariation' : { statistic: value, p: result.p, where: null };
}

function normality(values: readonly number[]): Tested {
  return values.length > MOST_FOR_SHAPIRO_WILK ? 'tooManyPlots' : figuresOf(shapiroWilk(values), 'w');
}

/**
 * Treatments on a single plot have no spread to compare. Residuals no larger than the rounding of the values explains are
 * zero: a treatment that does not vary must not look as if it did.
 */
function residualsByTreatment({ design, fitted, names }: AnalysedResponse): readonly (readonly number[])[] {
  const { residuals, response } = fitted.fit;
  const noise = Math.sqrt(roundingSumOfSquares(response.deviations) / response.deviations.length);
  const groups = names.map((): number[] => []);
  design.treatmentOfPlot.forEach((level, plot) => {
    const residual = residuals[plot] ?? 0;
    groups[level]?.push(Math.abs(residual) <= noise ? 0 : residual);
  });
  return groups.filter((group) => group.length > 1);
}

function additivity({ design, fitted }: AnalysedResponse): Tested {
  if (design.design !== 'randomizedCompleteBlocks') return 'incompleteBlocks';
  return figuresOf(nonadditivity(fitted.fit), 'f');
}

function outlyingStrip({ fitted, design, response, names }: AnalysedResponse): Tested {
  const found = studentizedResiduals(fitted.fit);
  if (isRefusal(found)) return found.code;
  const judged = found.residuals.flatMap((own) =>
    own.t === null || own.p === null ? [] : [{ plot: own.plot, t: own.t, p: own.p }],
  );
  const farthest = judged.reduce<(typeof judged)[number] | null>(
    (most, own) => (most === null || Math.abs(own.t) > Math.abs(most.t) ? own : most),
    null,
  );
  if (farthest === null) return 'noErrorVariation';
  const plot = design.plots[farthest.plot];
  const block = plot?.block === null || plot === undefined ? null : (response.blocks?.[plot.block] ?? null);
  const treatment = names[design.treatmentOfPlot[farthest.plot] ?? 0] ?? '';
  return {
    statistic: farthest.t,
    p: farthest.p,
    where: stripWords(treatment, block, plot?.label ?? null),
  };
}

function trendAcrossField({ response, design, fitted }: AnalysedResponse): Tested {
  if (response.model?.trend) return 'trendInModel';
  const places = design.plots.flatMap(({ place }) => place ?? []);
  if (places.length < design.plots.length) return 'placesNotKnown';
  return figuresOf(residualTrend(fitted.fit, places), 'f');
}
