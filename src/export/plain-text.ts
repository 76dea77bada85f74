import { decidingLetters } from '../figures/deciding-letters.ts';
import { procedureName } from '../figures/procedure-names.ts';
import type { ReportModel, ReportResponse } from '../findings/report-model.ts';
import { REPORT_CAUTION } from '../words/cautions.ts';
import { decimalsFor, fixed, pValue, significant } from '../words/number-formats.ts';
import { ONE_FIELD_ONE_SEASON } from '../words/weakening-sentences.ts';
import { howItWasDone, weaknesses } from './how-it-was-done.ts';

const LINE_WIDTH = 96;

/** The report as plain text for a terminal: the answer first, tables after it. */
export function plainText(report: ReportModel): string {
  const crop = report.trial.crop === null ? '' : `, ${report.trial.crop}`;
  const blocks = [
    `${report.trial.name || 'Trial without a name'}${crop}`,
    ...report.responses.map((response) => responseText(report, response)),
    problemsText(report),
    report.responses.some(({ refusal }) => refusal === null)
      ? wrapped(`${ONE_FIELD_ONE_SEASON} ${REPORT_CAUTION}`, '')
      : '',
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function responseText(report: ReportModel, response: ReportResponse): string {
  const unit = response.unit === null ? '' : ` (${response.unit})`;
  const heading = `${response.name}${unit}`;
  const head = `${heading}\n${'-'.repeat([...heading].length)}`;
  if (response.refusal !== null) {
    return `${head}\n${wrapped(`Not analysed: ${response.refusal.message} ${response.refusal.whatWouldHelp}`, '')}`;
  }
  const weak = weaknesses(report, response);
  const parts = [
    `${head}\n${answersText(response)}`,
    meansText(response),
    anovaText(response),
    wrapped(howItWasDone(report, response).join(' '), ''),
    weak.length === 0 ? '' : `What makes it weaker\n${weak.map((text) => wrapped(text, '  ')).join('\n')}`,
  ];
  return parts.filter((part) => part !== '').join('\n\n');
}

function answersText({ answers }: ReportResponse): string {
  if (answers.length === 0) return 'No comparison could be made.';
  return answers
    .map(
      (answer) =>
        `${answer.a} against ${answer.b}\n${wrapped(answer.differenceSentence, '  ')}\n${wrapped(answer.moneySentence, '  ')}`,
    )
    .join('\n');
}

function meansText(response: ReportResponse): string {
  if (response.means.length === 0) return '';
  const decimals = decimalsFor(response.standardErrorOfMean, response.grandMean);
  const letters = decidingLetters(response);
  const procedure = response.decidedBy?.procedure;
  const letterHeading = letters.size === 0 || procedure === undefined ? [] : [procedureName(procedure)];
  const rows = response.means.map((mean) => [
    mean.treatment,
    fixed(mean.adjustedMean, decimals),
    fixed(mean.standardError, decimals + 1),
    String(mean.n),
    ...(letters.size === 0 ? [] : [letters.get(mean.treatment) ?? '']),
  ]);
  return aligned([['treatment', 'mean', 'std. error', 'strips', ...letterHeading], ...rows]);
}

function anovaText({ anova }: ReportResponse): string {
  if (anova.length === 0) return '';
  const rows = anova.map((row) => [
    row.label,
    String(row.df),
    significant(row.ss, 5),
    row.ms === null ? '' : significant(row.ms, 5),
    row.f === null ? '' : fixed(row.f, 2),
    row.p === null ? '' : pValue(row.p),
  ]);
  return aligned([['source', 'df', 'SS', 'MS', 'F', 'p'], ...rows]);
}

function problemsText(report: ReportModel): string {
  if (report.problems.length === 0) return '';
  const lines = report.problems.map(({ file, row, column, message, whatToDo }) => {
    const place = [file, row === null ? null : `row ${row}`, column === null ? null : `column ${column}`];
    const where = place.flatMap((part) => part ?? []).join(', ');
    return wrapped(`${where === '' ? '' : `${where}: `}${message} ${whatToDo}`, '  ');
  });
  return `What was noticed in the files\n${lines.join('\n')}`;
}

/** First column to the left, the others to the right. */
function aligned(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => [...(row[column] ?? '')].length)),
  );
  return rows
    .map((row) =>
      row
        .map((text, column) => {
          const gap = ' '.repeat((widths[column] ?? 0) - [...text].length);
          return column === 0 ? text + gap : gap + text;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

function wrapped(text: string, indent: string): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((part) => part !== '')) {
    if (line !== '' && indent.length + line.length + 1 + word.length > LINE_WIDTH) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((part) => indent + part).join('\n');
}
