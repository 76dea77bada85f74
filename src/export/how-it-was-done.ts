import { procedureName } from '../figures/procedure-names.ts';
import type { ReportModel, ReportResponse, ReportStrip } from '../findings/report-model.ts';
import { fixed, percentOf } from '../words/number-formats.ts';
import { lateChangeWords } from '../words/setting-words.ts';

const DESIGNS: Readonly<Record<ReportResponse['design'], string>> = {
  randomizedCompleteBlocks: 'complete blocks',
  incompleteBlocks: 'incomplete blocks',
  completelyRandomized: 'completely randomized, no blocks',
  latinSquare: 'Latin square, rows and columns',
  splitPlot: 'split plot in blocks',
};

/** Notes that tell where the strips lie, if not where they were planned. */
const WHERE_STRIPS_LIE = ['layoutMoved', 'appliedPolygonsUsed'];

/** How the figures came about, in a few plain sentences; shared by the page and the plain text. */
export function howItWasDone(report: ReportModel, response: ReportResponse): readonly string[] {
  const used = report.strips.filter((strip) => strip.used).length;
  const blocks = new Set(report.strips.flatMap(({ block }) => block ?? [])).size;
  const inBlocks = blocks === 0 ? '' : ` in ${blocks} ${blocks === 1 ? 'block' : 'blocks'}`;
  const treatments = new Set(report.strips.map(({ treatment }) => treatment)).size;
  return [
    `${treatments} treatments on ${report.strips.length} strips${inBlocks} (${DESIGNS[response.design]}); ${used} strips used. The strip is the unit: points within it are averaged.`,
    ...report.problems.filter(({ code }) => WHERE_STRIPS_LIE.includes(code)).map(({ message }) => message),
    ...pointsSentence(report.strips),
    decidedSentence(response),
    ...levelSentence(response),
  ];
}

function pointsSentence(strips: readonly ReportStrip[]): readonly string[] {
  const measured = strips.filter(({ pointsRead }) => pointsRead !== null);
  if (measured.length === 0) return [];
  const read = sum(measured.map(({ pointsRead }) => pointsRead ?? 0));
  const kept = sum(measured.map(({ pointsKept }) => pointsKept ?? 0));
  const share = read === 0 ? '' : ` (${percentOf(kept / read)})`;
  return [`Yield monitor: ${read} points on the strips, ${kept} kept${share}.`];
}

function decidedSentence({ decidedBy, alpha }: ReportResponse): string {
  if (decidedBy === null)
    return 'No procedure decides: nothing was repeated, so there is no error to judge by.';
  const chance = decidedBy.chanceOfOneFalseReal;
  const falseReal =
    chance === null
      ? ''
      : ` Chance of at least one false Real if all treatments were equal: ${percentOf(chance)}.`;
  return `Decided by ${procedureName(decidedBy.procedure)} at level ${alpha}.${falseReal}`;
}

function levelSentence({ cvPercent, lsd, unit }: ReportResponse): readonly string[] {
  const parts: string[] = [];
  if (cvPercent !== null) parts.push(`CV ${fixed(cvPercent, 1)} %`);
  if (lsd.value !== null)
    parts.push(`LSD (${percentOf(lsd.alpha)}) ${fixed(lsd.value, 2)}${unit === null ? '' : ` ${unit}`}`);
  return parts.length === 0 ? [] : [`${parts.join(', ')}.`];
}

/** Every weakness of every answer once, and settings that moved after the harvest was seen. */
export function weaknesses(report: ReportModel, response: ReportResponse): readonly string[] {
  const late = report.trial.changedAfterSeeing.map(
    (change) => `Changed after the harvest data had been seen: ${lateChangeWords(change)}.`,
  );
  return [...new Set([...response.answers.flatMap(({ weakens }) => weakens), ...late])];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
