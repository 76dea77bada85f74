/// <reference path="./file-readers.d.ts" />
import type { ISOXMLManager, LoggedRecord, TaskLog } from 'isoxml';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';
import { reasonOf } from './unpack-zip.ts';

/** The task data of an archive (ISO 11783-10: TASKDATA.XML and the time logs beside it), as their reader hands them over. */
export async function openTaskData(bytes: Uint8Array, file: string): Promise<Outcome<ISOXMLManager>> {
  const { ISOXMLManager } = await import('isoxml');
  const manager = new ISOXMLManager();
  try {
    await manager.parseISOXMLFile(bytes, 'application/zip');
    return success(manager);
  } catch (error) {
    return failure(taskDataDamaged(error, file));
  }
}

export function taskDataDamaged(error: unknown, file: string): Problem {
  return intakeProblem('taskDataDamaged', { file }, { reason: reasonOf(error) });
}

/** A quantity that a log holds: an identifier of the data dictionary, of one element of the machine. */
export interface LoggedColumn {
  readonly ddi: number;
  readonly element: string;
  /** Under which records have it. */
  readonly key: string;
}

export function loggedColumns({ timeLogHeader }: TaskLog): LoggedColumn[] {
  return (timeLogHeader?.attributes.DataLogValue ?? []).flatMap(({ attributes }) => {
    const { ProcessDataDDI: ddi, DeviceElementIdRef: element } = attributes;
    if (element === null || element === undefined) return [];
    return [{ ddi: Number.parseInt(ddi, 16), element: element.xmlId, key: `${ddi}_${element.xmlId}` }];
  });
}

/** False, with a problem, where the archive lacks the log's header or its records. */
export function isComplete(log: TaskLog, file: string, problems: Problem[]): boolean {
  const isThere = log.binaryData !== null && log.binaryData !== undefined && log.timeLogHeader !== undefined;
  if (!isThere) {
    problems.push(intakeProblem('taskLogMissing', { file }, { log: log.attributes.Filename }));
  }
  return isThere;
}

export function recordsOf(log: TaskLog, file: string, problems: Problem[]): readonly LoggedRecord[] {
  // The reader takes the whole buffer beneath its bytes, so they must be alone in it.
  log.binaryData = log.binaryData?.slice() ?? null;
  const { timeLogs } = log.parseBinaryFile();
  if (log.parsingErrors.length > 0) {
    const details = { log: log.attributes.Filename, records: timeLogs.length };
    problems.push(intakeProblem('taskLogCutOff', { file }, details));
  }
  return timeLogs;
}

/** What the binary log writes where it has no value. */
const NO_VALUE = [2 ** 31 - 1, -(2 ** 31)];

/** null: not logged in this record, or without a value. */
export function valueIn({ values }: LoggedRecord, key: string): number | null {
  const value = values[key];
  return value === undefined || NO_VALUE.includes(value) ? null : value;
}

export function timeText({ time }: LoggedRecord): string {
  return Number.isNaN(time.getTime()) ? '' : time.toISOString();
}

/** Longitude and latitude; without a fix (position status 0) a record has no position. */
export function positionTexts({ position, isValidPosition }: LoggedRecord): [string, string] {
  if (position === undefined || !isValidPosition || position.PositionStatus === '0') return ['', ''];
  return [String(position.PositionEast), String(position.PositionNorth)];
}
