import { decidingLetters } from '../figures/deciding-letters.ts';
import { differencesAgainstBreakEven } from '../figures/differences-against-break-even.ts';
import { capitalised, responseHeading } from '../figures/figure-options.ts';
import { stripsInFieldOrder } from '../figures/strips-in-field-order.ts';
import { escapeMarkup } from '../figures/svg-markup.ts';
import type { ReportAnswer, ReportModel, ReportResponse } from '../findings/report-model.ts';
import { sentencesByFile } from '../words/assumption-sentences.ts';
import { REPORT_CAUTION, sprayingCautions } from '../words/cautions.ts';
import { decimalsFor, fixed, signed, signedBound, withUnit } from '../words/number-formats.ts';
import { MONEY_NOT_KNOWN, NUMBERS_ONLY } from '../words/verdict-glossary.ts';
import { ONE_FIELD_ONE_SEASON } from '../words/weakening-sentences.ts';
import { HANDOUT_CSS } from './handout-sheet.ts';
import { howItWasDone, weaknesses } from './how-it-was-done.ts';
import { mainResponse } from './main-response.ts';

export { HANDOUT_CSS };

export interface HandoutExtras {
  readonly season: string | null;
}

/** Both pictures of the page as SVG text, laid out for its width. */
export interface HandoutFigures {
  readonly stripsInFieldOrder: string;
  readonly differencesAgainstBreakEven: string;
}

const PAGE_PX = 718;
/** Up to here each comparison gets its own sentence; beyond, a table. */
const MOST_SENTENCES = 4;
const MOST_ROWS = 28;
/** More intervals than these would push the page onto a second sheet; the picture file has them all. */
const MOST_DRAWN = 12;
const HASH_PREFIX = 12;

export function handoutFigures(report: ReportModel, widthPx = PAGE_PX): HandoutFigures | null {
  const response = mainResponse(report);
  if (response === null) return null;
  return {
    stripsInFieldOrder: stripsInFieldOrder(report, response.name, {
      widthPx,
      id: 'handout-strips',
      plotHeightPx: plotHeightPx(response.answers.length),
    }),
    differencesAgainstBreakEven: differencesAgainstBreakEven(report, response.name, {
      widthPx,
      id: 'handout-differences',
      mostRows: MOST_DRAWN,
      oneLine: true,
    }),
  };
}

/** The fewer answers, the more room for the strips. */
function plotHeightPx(answersGiven: number): number {
  if (answersGiven > MOST_SENTENCES) return 95;
  if (answersGiven > 2) return 135;
  return answersGiven === 2 ? 210 : 250;
}

/** The one page for the grower's table, as a document of its own: nothing in it is fetched from anywhere. */
export function handoutPage(report: ReportModel, extras: HandoutExtras = { season: null }): string {
  const title = escapeMarkup(report.trial.name || 'Trial');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${title}</title>
<style>body { margin: 0; }${HANDOUT_CSS}</style>
</head>
<body>
${handoutBody(report, handoutFigures(report), extras)}
${cautionsBeneath()}
</body>
</html>
`;
}

/**
 * What stands on the page: the answer first, then the two pictures, the means, how it was done and what weakens
 * it. Markup text for `HANDOUT_CSS`; every word from the report is escaped.
 */
export function handoutBody(
  report: ReportModel,
  figures: HandoutFigures | null,
  extras: HandoutExtras = { season: null },
): string {
  const response = mainResponse(report);
  const parts =
    response === null || figures === null
      ? [paragraph('Nothing could be analysed.'), problems(report)]
      : [
          answers(response),
          figure(figures.stripsInFieldOrder),
          response.answers.length === 0 || response.answers.length > MOST_DRAWN
            ? ''
            : figure(figures.differencesAgainstBreakEven),
          below(report, response),
        ];
  return `<article class="handout">
${heading(report, response, extras)}
${parts.filter((part) => part !== '').join('\n')}
${footer(report)}
</article>`;
}

function heading(report: ReportModel, response: ReportResponse | null, { season }: HandoutExtras): string {
  const what = response === null ? null : capitalised(responseHeading(response));
  const about = [report.trial.crop, season, what].flatMap((text) => text ?? []).map(escapeMarkup);
  return `<header><h1>${escapeMarkup(report.trial.name || 'Trial without a name')}</h1><p class="when">${about.join(' · ')}</p></header>`;
}

function answers(response: ReportResponse): string {
  if (response.refusal !== null) {
    return `<section class="answers">${answerBox('This trial cannot tell', null, `${response.refusal.message} ${response.refusal.whatWouldHelp}`)}</section>`;
  }
  if (response.answers.length > MOST_SENTENCES) return comparisonsTable(response);
  const several = response.answers.length > 1 ? ' several' : ' single';
  const boxes = response.answers.map((answer) =>
    answerBox(`${answer.a} against ${answer.b}`, answer, answer.sentence),
  );
  return `<section class="answers${several}">${boxes.join('\n')}</section>`;
}

function answerBox(title: string, answer: ReportAnswer | null, sentence: string): string {
  const verdicts =
    answer === null
      ? ''
      : `<p class="verdicts"><b><span>Difference</span> ${differenceWords(answer)}</b><b><span>Money</span> ${moneyWords(answer)}</b></p>`;
  return `<div class="answer"><h2>${escapeMarkup(title)}</h2>${verdicts}<p>${escapeMarkup(sentence)}</p></div>`;
}

function differenceWords({ difference }: ReportAnswer): string {
  return escapeMarkup(difference ?? NUMBERS_ONLY);
}

function moneyWords({ money }: ReportAnswer): string {
  return escapeMarkup(money ?? MONEY_NOT_KNOWN);
}

function comparisonsTable(response: ReportResponse): string {
  const decimals = decimalsFor(response.standardErrorOfDifference, response.grandMean);
  const rows = response.answers.slice(0, MOST_ROWS).map((answer) => {
    const { lower, upper } = answer.interval;
    const range =
      lower === null || upper === null
        ? ''
        : `${signedBound(lower, decimals)} to ${signedBound(upper, decimals)}`;
    return `<tr><td>${escapeMarkup(answer.a)} against ${escapeMarkup(answer.b)}</td><td><b>${differenceWords(answer)}</b></td><td><b>${moneyWords(answer)}</b></td><td class="number">${signed(answer.estimate, decimals)}</td><td class="number">${range}</td></tr>`;
  });
  const more = response.answers.length - rows.length;
  const rest = more > 0 ? paragraph(`${more} further comparisons stand in answers.csv.`) : '';
  const unit = response.unit === null ? '' : `, ${escapeMarkup(response.unit)}`;
  return `<table class="comparisons"><thead><tr><th>Comparison</th><th>Difference</th><th>Money</th><th class="number">Estimate${unit}</th><th class="number">Interval</th></tr></thead><tbody>${rows.join('\n')}</tbody></table>${rest}`;
}

function figure(svg: string): string {
  return `<figure class="figure">${svg}</figure>`;
}

function below(report: ReportModel, response: ReportResponse): string {
  const weak = list([...weaknesses(report, response), ONE_FIELD_ONE_SEASON]);
  const how = paragraph(howItWasDone(report, response).join(' '));
  const left = `${meansTable(response)}${section('How it was done', how)}`;
  const right = `${section('What makes it weaker', weak)}${assumptions(report)}${alsoMeasured(report, response)}`;
  return `<div class="below"><div>${left}</div><div>${right}</div></div>`;
}

function meansTable(response: ReportResponse): string {
  if (response.means.length === 0) return '';
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  const letters = decidingLetters(response);
  const rows = response.means.slice(0, MOST_ROWS).map((mean) => {
    const letter = letters.size === 0 ? '' : `<td>${escapeMarkup(letters.get(mean.treatment) ?? '')}</td>`;
    return `<tr><td>${escapeMarkup(mean.treatment)}</td><td class="number">${fixed(mean.adjustedMean, decimals)}</td><td class="number">${mean.n}</td>${letter}</tr>`;
  });
  const unit = response.unit === null ? '' : `, ${escapeMarkup(response.unit)}`;
  const column = letters.size === 0 ? '' : '<th></th>';
  return `<table class="means"><thead><tr><th>Treatment</th><th class="number">Mean${unit}</th><th class="number">Strips</th>${column}</tr></thead><tbody>${rows.join('\n')}</tbody></table>`;
}

/** Other responses in a line each: the page is about one. */
function alsoMeasured(report: ReportModel, main: ReportResponse): string {
  const others = report.responses.filter((response) => response !== main);
  if (others.length === 0) return '';
  const lines = others.slice(0, 4).map((response) => {
    if (response.refusal !== null) return `${response.name}: not analysed`;
    const real = response.answers.filter(({ difference }) => difference?.startsWith('Real')).length;
    const mean =
      response.grandMean === null ? '' : `mean ${withUnit(fixed(response.grandMean, 1), response.unit)}; `;
    return `${response.name}: ${mean}${real} of ${response.answers.length} differences Real`;
  });
  return section('Also measured', list(lines));
}

function assumptions(report: ReportModel): string {
  const { assumptions: taken, files } = report.trial;
  const byFile = sentencesByFile(
    taken,
    files.map(({ name }) => name),
  );
  const paragraphs = byFile.map(({ file, sentences }) =>
    paragraph(file === null ? sentences.join(' ') : `${file}: ${sentences.join(' ')}`),
  );
  return section('Taken for granted', paragraphs.join(''));
}

function footer(report: ReportModel): string {
  const files = report.trial.files.map(({ name, sha256 }) => `${name} ${sha256.slice(0, HASH_PREFIX)}`);
  const made = [`Made by ${report.madeBy} from:`, files.join(', ') || 'no files'].join(' ');
  return `<footer class="cautions"><p>${escapeMarkup(REPORT_CAUTION)}</p><p class="made">${escapeMarkup(made)}</p></footer>`;
}

/** Beneath the sheet on a screen; on paper the sheet's own last line stands for them, so that one page stays one. */
function cautionsBeneath(): string {
  return `<aside class="cautions-beneath"><details><summary>Before anything is sprayed</summary>${list(sprayingCautions(true))}</details></aside>`;
}

function problems(report: ReportModel): string {
  return list(report.problems.map(({ message, whatToDo }) => `${message} ${whatToDo}`));
}

function section(title: string, content: string): string {
  return content === '' ? '' : `<section><h2>${escapeMarkup(title)}</h2>${content}</section>`;
}

function paragraph(text: string): string {
  return `<p>${escapeMarkup(text)}</p>`;
}

function list(texts: readonly string[]): string {
  if (texts.length === 0) return '';
  return `<ul>${texts.map((text) => `<li>${escapeMarkup(text)}</li>`).join('')}</ul>`;
}
