import { chiSquaredUpperTail } from '../../analyses/distributions/chi-squared.ts';
import { friedman } from '../../analyses/friedman.ts';
import { friedmanPairs } from '../../analyses/friedman-pairs.ts';
import { quickGenerator } from '../../analyses/quick-generator.ts';
import { randomizationWithinBlocks } from '../../analyses/randomization-within-blocks.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { signFlipTest } from '../../analyses/sign-flip-test.ts';
import { signedRank } from '../../analyses/signed-rank.ts';
import {
  type AgreementId,
  agreementRefused,
  agreementSentences,
  rankedPairsMeaning,
} from '../words/agreement-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import { type BlockPairs, blockPairs, differencesOfPairs } from './block-pairs.ts';
import type { ReportAgreement, ReportResponse } from './report-model.ts';
import type { ResponseDesign } from './response-design.ts';
import { isPlain } from './response-plots.ts';

/** Fixed once and for all, so that the same trial always draws the same arrangements. */
export const RANDOMIZATION_SEED = 19_350_107;
/** Enough for a p of .05 to be known within .005 (standard error), and quick in a browser. */
const DRAWS = 1999;
const MOST_PLOTS_TO_SHUFFLE = 300;
const MOST_PAIRS_TO_RANK = 500;

interface Counted {
  readonly statistic: number | null;
  readonly p: number;
  readonly smallestP: number;
  readonly arrangements: number | null;
  readonly exact: boolean | null;
  readonly standardErrorOfP: number | null;
}

/** A test's figures, or the code of the reason why there are none. */
type Tested = Counted | string;

/**
 * Tests that need no normal errors, beside the analysis of variance: ranks, and the randomisation of this very design.
 * They never change a verdict.
 */
export function agreeingTests(analysed: AnalysedResponse): readonly ReportAgreement[] {
  const { fit } = analysed.fitted;
  const pOfAnalysis = fit.rows.find(({ term }) => term === 'treatment')?.p ?? null;
  if (pOfAnalysis === null) return [];
  const plain = isPlain(analysed.response);
  const pairs = plain && analysed.names.length === 2 ? blockPairs(0, 1, analysed.design) : null;
  const tests: readonly (readonly [AgreementId, Tested])[] =
    pairs?.complete === true
      ? [
          ['signedRank', bySignedRank(pairs)],
          ['signFlips', bySignFlips(pairs)],
        ]
      : [
          ...(analysed.design.blockOfPlot === null ? [] : [['friedman', byFriedman(analysed)] as const]),
          ['randomization', byRandomization(analysed)],
        ];
  return tests.map(([id, tested]) => agreementOf(id, tested, pOfAnalysis, analysed.judging.alpha));
}

/** For designs whose arrangements are not counted here: said, not passed over. */
export function randomizationNotMade(): ReportAgreement {
  return refusedAgreement('randomization', 'notThisDesign');
}

function refusedAgreement(id: AgreementId, code: string): ReportAgreement {
  return {
    id,
    ...agreementRefused(id, code),
    statistic: null,
    p: null,
    inDoubt: null,
    smallestP: null,
    arrangements: null,
    exact: null,
    standardErrorOfP: null,
    seed: null,
  };
}

function agreementOf(id: AgreementId, tested: Tested, pOfAnalysis: number, alpha: number): ReportAgreement {
  if (typeof tested === 'string') return refusedAgreement(id, tested);
  const seed = tested.exact === false ? RANDOMIZATION_SEED : null;
  const figures = { ...tested, exact: tested.exact ?? true, pOfAnalysis, alpha, seed };
  return {
    id,
    ...agreementSentences(id, figures),
    ...tested,
    inDoubt: tested.p < alpha !== pOfAnalysis < alpha,
    seed,
  };
}

const COUNTS_NOTHING = { arrangements: null, exact: null, standardErrorOfP: null };

/** Ranks of values as measured answer another question than a model that adjusts them. */
function byFriedman({ response, design, names }: AnalysedResponse): Tested {
  if (!isPlain(response)) return 'ranksNotAdjusted';
  const table = valuesOfBlocks(design, names.length);
  if (table === null) return 'incompleteBlocks';
  const found = friedman(table);
  if (isRefusal(found)) return found.code;
  // The largest the statistic can be: all blocks rank the treatments alike.
  const smallestP = chiSquaredUpperTail(found.blocks * found.df, found.df);
  return { ...COUNTS_NOTHING, statistic: found.chiSquared, p: found.p, smallestP };
}

/** After Friedman's test, the pairs; with two treatments the exact tests of their pairs say more. */
export function rankedPairsOf({
  response,
  design,
  names,
  judging,
}: AnalysedResponse): ReportResponse['rankedPairs'] {
  const table = names.length > 2 && isPlain(response) ? valuesOfBlocks(design, names.length) : null;
  if (table === null) return null;
  const found = friedmanPairs(table, judging.alpha);
  if (isRefusal(found)) return null;
  return {
    leastDifference: found.leastDifference,
    pairs: found.pairs.map(({ a, b, difference, p }) => ({
      a: names[a] ?? '',
      b: names[b] ?? '',
      difference,
      p,
    })),
    meaning: rankedPairsMeaning(found.leastDifference, judging.alpha),
  };
}

/** Blocks x treatments; null unless every block holds every treatment exactly once. */
function valuesOfBlocks(design: ResponseDesign, treatments: number): readonly (readonly number[])[] | null {
  const { blockOfPlot, treatmentOfPlot, deviations, blocks } = design;
  if (blockOfPlot === null || design.design !== 'randomizedCompleteBlocks') return null;
  if (deviations.length !== blocks.length * treatments) return null;
  const table = blocks.map(() => new Array<number>(treatments).fill(0));
  deviations.forEach((value, plot) => {
    const row = table[blockOfPlot[plot] ?? 0];
    if (row !== undefined) row[treatmentOfPlot[plot] ?? 0] = value;
  });
  return table;
}

function bySignedRank(pairs: BlockPairs): Tested {
  if (pairs.pairs.length > MOST_PAIRS_TO_RANK) return 'tooManyPlots';
  const found = signedRank(differencesOfPairs(pairs));
  if (isRefusal(found)) return found.code;
  return { ...COUNTS_NOTHING, statistic: found.v, p: found.p, smallestP: found.smallestP };
}

function bySignFlips(pairs: BlockPairs): Tested {
  const differences = differencesOfPairs(pairs);
  const found = signFlipTest(differences, quickGenerator(RANDOMIZATION_SEED), DRAWS);
  if (isRefusal(found)) return found.code;
  const { p, patterns, exact, smallestP } = found;
  return {
    statistic: differences.reduce((sum, own) => sum + own, 0) / differences.length,
    p,
    smallestP,
    arrangements: patterns,
    exact,
    standardErrorOfP: exact ? 0 : Math.sqrt((p * (1 - p)) / DRAWS),
  };
}

function byRandomization({ response, design, names, fitted }: AnalysedResponse): Tested {
  if (!isPlain(response)) return 'notThisDesign';
  if (design.deviations.length > MOST_PLOTS_TO_SHUFFLE) return 'tooManyPlots';
  const found = randomizationWithinBlocks(
    {
      deviations: design.deviations,
      treatmentOfPlot: design.treatmentOfPlot,
      treatments: names.length,
      blockOfPlot: design.blockOfPlot ?? design.deviations.map(() => 0),
    },
    quickGenerator(RANDOMIZATION_SEED),
    DRAWS,
  );
  if (isRefusal(found)) return found.code;
  const { p, smallestP, arrangements, exact, standardError } = found;
  const statistic = fitted.fit.rows.find(({ term }) => term === 'treatment')?.f ?? null;
  return { statistic, p, smallestP, arrangements, exact, standardErrorOfP: standardError };
}
