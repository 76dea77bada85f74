import { createHash } from 'node:crypto';
import { answerFiles } from '../export/answer-files.ts';
import { plainText } from '../export/plain-text.ts';
import { reportJson } from '../export/report-json.ts';
import type { ReportModel } from '../findings/report-model.ts';
import { analyseTable } from '../pipeline/analyse-table.ts';
import { type AnalysisRun, analyseTrial } from '../pipeline/analyse-trial.ts';
import type { RunningHash } from '../pipeline/input-file.ts';
import { reportOfProblems } from '../pipeline/report-of-problems.ts';
import { type Outcome, type Problem, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { adviceLine } from '../words/problem-sentences.ts';
import { openedTrial } from './answer-inputs.ts';
import { type AnswerRequest, answerRequest, asksForJson, type TableRequest } from './arguments.ts';
import { EXIT } from './exit-codes.ts';
import { absolutePath, readInput } from './read-files.ts';
import { writeFolder } from './write-folder.ts';

/** `stripverdict answer`: reads the files, runs the pipeline, prints or writes the report. */
export async function runAnswer(words: readonly string[]): Promise<number> {
  const request = answerRequest(words);
  if (!request.ok) return printReport(reportOfProblems(request.problems), asksForJson(words));
  const run = await analysed(request.value);
  if (!run.ok) return printReport(reportOfProblems(run.problems), request.value.asJson);
  const outcome = await written(run.value, request.value.outFolder);
  const code = printReport(outcome.report, request.value.asJson);
  if (outcome.ok) return code;
  if (!request.value.asJson) printFaults(outcome.report);
  return EXIT.badInput;
}

interface Analysed extends Pick<AnalysisRun, 'report' | 'field'> {
  readonly trial: TrialDocument | null;
}

async function analysed(request: AnswerRequest): Promise<Outcome<Analysed>> {
  if (request.table !== null) return tableRun(request.table);
  const opened = await openedTrial(request);
  if (!opened.ok) return opened;
  const control = request.cleanings ? ({ cleanings: 'always' } as const) : {};
  const run = await analyseTrial(opened.value.trial, opened.value.files, { ...control, newSha256 });
  return success({ ...run, report: withRemarks(run.report, opened.problems) });
}

/** What was remarked while the files named on the command line were taken in, and the report does not say itself. */
function withRemarks(report: ReportModel, remarks: readonly Problem[]): ReportModel {
  const isSaid = (own: ReportModel['problems'][number]) =>
    report.problems.some(
      ({ code, file, message }) => code === own.code && file === own.file && message === own.message,
    );
  const more = reportOfProblems(remarks).problems.filter((own) => !isSaid(own));
  return more.length === 0 ? report : { ...report, problems: [...more, ...report.problems] };
}

function tableRun(request: TableRequest): Outcome<Analysed> {
  const file = readInput(request.file, absolutePath(request.file));
  return file.ok ? success(analyseTable(file.value, request)) : file;
}

function newSha256(): RunningHash {
  const hash = createHash('sha256');
  return { update: (bytes) => void hash.update(bytes), digest: () => hash.digest('hex') };
}

interface Written {
  readonly report: ReportModel;
  readonly ok: boolean;
}

async function written(run: Analysed, folder: string | null): Promise<Written> {
  if (folder === null) return { report: run.report, ok: true };
  const outcome = writeFolder(absolutePath(folder), await answerFiles(run.report, run));
  if (outcome.ok) {
    process.stderr.write(`stripverdict: wrote ${outcome.value.length} files to ${folder}\n`);
    return { report: run.report, ok: true };
  }
  const { problems } = reportOfProblems(outcome.problems);
  return { report: { ...run.report, problems: [...run.report.problems, ...problems] }, ok: false };
}

function printReport(report: ReportModel, asJson: boolean): number {
  const code = report.responses.some(({ refusal }) => refusal === null) ? EXIT.analysed : EXIT.badInput;
  if (asJson) process.stdout.write(reportJson(report));
  else if (code === EXIT.analysed) process.stdout.write(plainText(report));
  else printFaults(report);
  return code;
}

/** What stopped the analysis, one line each on standard error. */
function printFaults(report: ReportModel): void {
  const errors = report.problems.filter(({ severity }) => severity === 'error');
  for (const fault of errors) process.stderr.write(`stripverdict: ${adviceLine(fault, fault)}\n`);
  for (const { name, refusal } of report.responses) {
    if (refusal !== null)
      process.stderr.write(`stripverdict: ${name}: ${refusal.message} ${refusal.whatWouldHelp}\n`);
  }
}
