import type { ReportModel, ReportResponse } from '../findings/report-model.ts';
import { REPORT_CAUTION } from '../words/cautions.ts';
import { designWords, TYPE_II_NOTE } from '../words/design-words.ts';
import { levelText, percentOf } from '../words/number-formats.ts';
import { adviceLine } from '../words/problem-sentences.ts';
import { lateChangeWords } from '../words/setting-words.ts';
import { procedureWords } from '../words/weakening-sentences.ts';
import { responsesAtAGlance } from './further-sections.ts';
import { furtherText, sectionText } from './further-text.ts';
import { anovaText, comparisonsText, meansText, summaryText } from './plain-text-tables.ts';
import { scaleText } from './scale-text.ts';
import { wrapped } from './text-table.ts';

const WIDTH = 96;

/**
 * The report as plain text for a terminal: the answers first, then the tables they rest on. Each comparison has one
 * line that starts with `Difference:` and one that starts with `Money:`; these are never broken, so that they can be
 * searched for.
 */
export function plainText(report: ReportModel): string {
  const sections = [
    trialSection(report),
    responsesTable(report),
    ...report.responses.map(responseSection),
    scaleText(report.weighed, WIDTH),
    problemSection(report),
    wrapped(REPORT_CAUTION, WIDTH, ''),
  ];
  return `${sections
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

function trialSection({ trial, strips, madeBy }: ReportModel): readonly string[] {
  const used = strips.filter((strip) => strip.used).length;
  return [
    ...titled(trial.name.trim() || 'Trial without a name', '='),
    ...(trial.crop === null ? [] : [`Crop: ${trial.crop}`]),
    `Design: ${designWords(trial.design)}`,
    ...(strips.length === 0 ? [] : [`Strips or plots: ${strips.length}, of which ${used} were used`]),
    ...trial.files.map(({ name, role, sha256 }) => `File: ${name} (${role}, SHA-256 ${sha256})`),
    ...trial.assumptions.flatMap((line) => wrapped(`Assumed: ${line}`, WIDTH, '  ')),
    ...trial.changedAfterSeeing.flatMap((change) =>
      wrapped(`Changed after the harvest was seen: ${lateChangeWords(change)}`, WIDTH, '  '),
    ),
    `Made by: ${madeBy}`,
  ];
}

/** Where there are several responses: all of them at a glance. */
function responsesTable(report: ReportModel): readonly string[] {
  const section = responsesAtAGlance(report);
  return section === null ? [] : sectionText(section, 0, WIDTH);
}

function responseSection(response: ReportResponse): readonly string[] {
  const unit = response.unit === null ? '' : ` (${response.unit})`;
  const heading = titled(`${response.name}${unit}: ${designWords(response.design)}`, '-');
  if (response.refusal !== null) {
    const { message, whatWouldHelp } = response.refusal;
    return [
      ...heading,
      ...wrapped(`Not analysed: ${message}`, WIDTH, '  '),
      ...wrapped(`What would help: ${whatWouldHelp}`, WIDTH, '  '),
    ];
  }
  return [
    ...heading,
    ...response.answers.flatMap(({ differenceSentence, moneySentence }) => [
      `Difference: ${differenceSentence}`,
      `Money: ${moneySentence}`,
    ]),
    ...decidedText(response),
    ...weakeningText(response),
    ...cleaningText(response),
    '',
    ...anovaText(response),
    ...(response.design === 'incompleteBlocks' ? wrapped(TYPE_II_NOTE, WIDTH, '') : []),
    '',
    ...summaryText(response),
    '',
    ...meansText(response),
    '',
    ...comparisonsText(response),
    ...furtherText(response, WIDTH),
    ...checksText(response),
  ];
}

function decidedText({ decidedBy, alpha }: ReportResponse): readonly string[] {
  if (decidedBy === null) return [];
  const chance =
    decidedBy.chanceOfOneFalseReal === null
      ? ''
      : ` Chance of at least one false Real: ${percentOf(decidedBy.chanceOfOneFalseReal)}.`;
  return [
    '',
    `Level: ${levelText(alpha)}`,
    ...wrapped(`Decided by ${procedureWords(decidedBy.procedure)}. ${decidedBy.why}${chance}`, WIDTH, '  '),
  ];
}

/** Each sentence once; those on one comparison name its treatments. */
function weakeningText({ answers }: ReportResponse): readonly string[] {
  const weakens = [...new Set(answers.flatMap((answer) => answer.weakens))];
  const settle = [...new Set(answers.flatMap(({ wouldSettle }) => wouldSettle))];
  return [...listText('Weaker because:', weakens), ...listText('What would settle it:', settle)];
}

/** A cleaning that decides is said under what weakens the answers. */
function cleaningText({ cleanings }: ReportResponse): readonly string[] {
  if (cleanings === null) return [];
  const flips = cleanings.comparisons.some((one) => one.differenceFlips + one.moneyFlips > 0);
  return listText('Cleaning:', flips ? [] : [cleanings.meaning]);
}

function checksText({ checks, agreement }: ReportResponse): readonly string[] {
  return listText(
    'Checks:',
    [...checks, ...agreement].map(({ what, meaning, whatToDo }) => `${what}: ${meaning} ${whatToDo}`),
  );
}

function problemSection({ problems }: ReportModel): readonly string[] {
  return listText(
    'Problems and remarks:',
    problems.map((own) => `${own.severity}: ${adviceLine(own, own)}`),
  ).slice(1);
}

function listText(heading: string, lines: readonly string[]): readonly string[] {
  if (lines.length === 0) return [];
  return ['', heading, ...lines.flatMap((line) => wrapped(`- ${line}`, WIDTH, '  '))];
}

function titled(title: string, underline: string): readonly string[] {
  return [title, underline.repeat(Math.min(title.length, WIDTH))];
}
