import type { Problem } from '../trial/problem.ts';
import { APPLICATION_ADVICE } from './application-advice.ts';
import { AREA_ADVICE } from './area-advice.ts';
import { columnRoleWords, contentWords } from './column-role-words.ts';
import { FINDINGS_ADVICE } from './findings-advice.ts';
import { HARVEST_ADVICE } from './harvest-advice.ts';
import { HARVEST_FILE_ADVICE, TABLE_ADVICE } from './intake-advice.ts';
import { LAYOUT_ADVICE } from './layout-advice.ts';
import { fixed, pPhrase } from './number-formats.ts';
import { passListFaultWords } from './pass-words.ts';
import { PIPELINE_ADVICE } from './pipeline-advice.ts';
import { type Advice, type AdviceByCode, type Details, fillAdvice } from './sentence.ts';
import { setAsideWords } from './set-aside-words.ts';
import { TRIAL_ADVICE } from './trial-advice.ts';

const ADVICE: AdviceByCode = {
  ...TRIAL_ADVICE,
  ...TABLE_ADVICE,
  ...HARVEST_FILE_ADVICE,
  ...LAYOUT_ADVICE,
  ...HARVEST_ADVICE,
  ...APPLICATION_ADVICE,
  ...AREA_ADVICE,
  ...PIPELINE_ADVICE,
  ...FINDINGS_ADVICE,
};

export function hasSentence(code: string): boolean {
  return Object.hasOwn(ADVICE, code);
}

/** What is wrong and what to do. A code without words is a fault of ours and still tells its code. */
export function problemSentence(problem: Pick<Problem, 'code' | 'details'>): Advice {
  const advice = ADVICE[problem.code];
  if (advice === undefined || !hasSentence(problem.code))
    return {
      message: `Something is wrong here (${problem.code}).`,
      whatToDo: 'Check the file at this place.',
    };
  return fillAdvice(advice, detailsInWords(problem.details));
}

/** One line: `FILE, row R, column C: what is wrong, what to do`; parts of the place that are not known are left out. */
export function problemLine(problem: Omit<Problem, 'severity'>): string {
  return adviceLine(problem, problemSentence(problem));
}

/** The same line from words that were already made. */
export function adviceLine(place: Pick<Problem, 'file' | 'row' | 'column'>, advice: Advice): string {
  const where = [
    place.file,
    place.row === null ? null : `row ${place.row}`,
    place.column === null ? null : `column ${place.column}`,
  ].filter((part) => part !== null);
  const said = `${advice.message} ${advice.whatToDo}`.replace(/\s+/g, ' ').trim();
  return where.length === 0 ? said : `${where.join(', ')}: ${said}`;
}

const LONGEST_LIST = 12;

/** Lists shortened, and names that belong to the program turned into words. */
export function detailsInWords(details: Details): Details {
  return Object.fromEntries(
    Object.entries(details).map(([key, detail]) => [key, detailInWords(key, detail)]),
  );
}

function detailInWords(key: string, detail: Details[string] | undefined): Details[string] {
  if (detail === undefined) return null;
  if (key === 'p') return typeof detail === 'number' ? pPhrase(detail) : 'not tested';
  if (key === 'role' && typeof detail === 'string') return columnRoleWords(detail);
  if (key === 'roles' && isList(detail)) return detail.map(columnRoleWords);
  if (key === 'looksLike' && typeof detail === 'string') return contentWords(detail);
  if (key === 'mostOften') return typeof detail === 'string' ? setAsideWords(detail) : 'no point lay there';
  if (key === 'kgPerBushel' && typeof detail === 'number') return fixed(detail, 3);
  if (key === 'isProposed') return detail === true ? ', as proposed from the passes' : ', by hand';
  if (key === 'swapFits')
    return detail === true
      ? 'With longitude and latitude exchanged they would lie together.'
      : 'Exchanging longitude and latitude would not bring them together.';
  if (key === 'signFits')
    return detail === true
      ? ' With the sign of longitude or latitude turned (west and south are below 0) they would lie together.'
      : '';
  if (key === 'fault' && typeof detail === 'string') return passListFaultWords(detail);
  if (key === 'screens' && isList(detail)) return detail.map(setAsideWords);
  return isList(detail) ? shortened(detail) : detail;
}

function shortened(list: readonly string[]): readonly string[] {
  if (list.length <= LONGEST_LIST) return list;
  return [...list.slice(0, LONGEST_LIST - 1), `${list.length - LONGEST_LIST + 1} more`];
}

function isList(detail: Details[string]): detail is readonly string[] {
  return Array.isArray(detail);
}
