import type { LevelPair } from '../../analyses/pairwise-differences.ts';
import {
  type ComparisonFigures,
  differenceProse,
  differenceSentence,
  intervalText,
} from '../words/answer-sentences.ts';
import { type MoneyFigures, moneyNotKnown, moneyProse, moneySentence } from '../words/money-sentences.ts';
import { decimalsFor } from '../words/number-formats.ts';
import { intervalReason, testReason } from '../words/weakening-sentences.ts';
import type { ReportAnswer, ReportEconomics } from './report-model.ts';
import type { MoneyTerms } from './response-plots.ts';
import { differenceVerdict, moneyVerdict } from './verdicts.ts';

/** All that one comparison was found to be, in the response's unit. */
export interface JudgedComparison {
  readonly pair: LevelPair;
  readonly a: string;
  readonly b: string;
  /** As sentences call them: a bare number gets its heading, "rate 50". */
  readonly saidA: string;
  readonly saidB: string;
  readonly estimate: number;
  readonly standardError: number | null;
  /** null: nothing was repeated, so nothing is judged. */
  readonly real: boolean | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly intervalProcedure: string;
  readonly test: { readonly t: number; readonly df: number; readonly p: number } | null;
  readonly equivalence: ReportAnswer['equivalence'];
}

export interface AnswerContext {
  readonly response: string;
  readonly unit: string | null;
  readonly alpha: number;
  readonly grandMean: number;
  readonly decidedBy: string;
  /** null: this response says nothing about money. */
  readonly money: MoneyTerms | null;
  readonly whyNoMoney: string;
  /** Sentences that hold for this comparison. */
  readonly reasons: readonly string[];
  readonly weakens: readonly string[];
}

/** The two statements on one comparison; what would settle it is added by the caller, who knows the trial. */
export function answerOf(
  judged: JudgedComparison,
  context: AnswerContext,
): Omit<ReportAnswer, 'wouldSettle'> {
  const figures = comparisonFigures(judged, context);
  const difference = differenceVerdict(judged.real, judged.equivalence, judged.equivalence.margin);
  const money = moneyStatement(judged, context, figures);
  const { lower, upper, estimate, a, b } = judged;
  return {
    a,
    b,
    difference,
    money: money.verdict,
    estimate,
    interval: { lower, upper, level: 1 - context.alpha, procedure: judged.intervalProcedure },
    equivalence: judged.equivalence,
    differenceSentence: differenceSentence(difference, figures),
    moneySentence: money.line,
    sentence: [differenceProse(difference, figures), money.prose].filter((part) => part !== '').join(' '),
    reasons: [...testReasons(judged, context, figures), ...context.reasons],
    weakens: [...context.weakens],
  };
}

function comparisonFigures(judged: JudgedComparison, context: AnswerContext): ComparisonFigures {
  return {
    response: context.response,
    a: judged.saidA,
    b: judged.saidB,
    unit: context.unit,
    decimals: decimalsFor(judged.standardError, context.grandMean),
    estimate: judged.estimate,
    lower: judged.lower,
    upper: judged.upper,
    level: 1 - context.alpha,
    equivalenceLower: judged.equivalence.lower,
    equivalenceUpper: judged.equivalence.upper,
    equivalenceLevel: 1 - 2 * context.alpha,
    margin: judged.equivalence.margin,
  };
}

function testReasons(
  judged: JudgedComparison,
  context: AnswerContext,
  figures: ComparisonFigures,
): readonly string[] {
  if (judged.test === null) return [];
  const test = testReason({ ...judged.test, procedure: context.decidedBy, alpha: context.alpha });
  return [intervalReason(intervalText(figures), judged.intervalProcedure), test];
}

interface MoneyStatement {
  readonly verdict: ReportAnswer['money'];
  readonly line: string;
  readonly prose: string;
}

function moneyStatement(
  judged: JudgedComparison,
  context: AnswerContext,
  figures: ComparisonFigures,
): MoneyStatement {
  const terms = context.money;
  if (terms === null) return { verdict: null, line: moneyNotKnown([context.whyNoMoney]), prose: '' };
  if (!terms.known) {
    const line = moneyNotKnown(terms.missing);
    return { verdict: null, line, prose: `Whether it pays is not known: ${terms.missing.join('; ')}.` };
  }
  const verdict = moneyVerdict(judged, terms.breakEven);
  const net = netReturns(judged, terms);
  return {
    verdict,
    line: moneySentence(verdict, figures, net),
    prose: moneyProse(verdict, figures, net),
  };
}

function netReturns(judged: JudgedComparison, terms: MoneyTerms & { readonly known: true }): MoneyFigures {
  const { ratioOf } = terms;
  // On logarithms the difference brought back is a share of what b yields.
  const gained = (difference: number) =>
    ratioOf === undefined ? difference : Math.expm1(difference) * ratioOf.mean;
  const net = (difference: number) => gained(difference) * terms.pricePerUnit - terms.extraCost;
  return {
    breakEven: terms.breakEven,
    neededRatio: ratioOf?.neededRatio ?? null,
    net: net(judged.estimate),
    netLower: judged.lower === null ? null : net(judged.lower),
    netUpper: judged.upper === null ? null : net(judged.upper),
    moneyUnit: terms.moneyUnit,
  };
}

/** The same comparison as a line of the table on money. */
export function economicsRow(judged: JudgedComparison, terms: MoneyTerms): ReportEconomics {
  const { a, b } = judged;
  const { moneyUnit } = terms;
  if (!terms.known) {
    const unknown = { breakEven: null, extraCost: null, netReturn: null, netReturnLower: null };
    return { a, b, ...unknown, netReturnUpper: null, moneyUnit, missing: [...terms.missing] };
  }
  const net = netReturns(judged, terms);
  return {
    a,
    b,
    breakEven: terms.breakEven,
    extraCost: terms.extraCost,
    netReturn: net.net,
    netReturnLower: net.netLower,
    netReturnUpper: net.netUpper,
    moneyUnit,
    missing: [],
  };
}
