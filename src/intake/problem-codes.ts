import { type Problem, type ProblemPlace, type ProblemSeverity, problem } from '../trial/problem.ts';
import { APPLICATION_PROBLEM_CODES } from './application-problem-codes.ts';
import { AREA_PROBLEM_CODES } from './area-problem-codes.ts';
import { FILE_PROBLEM_CODES } from './file-problem-codes.ts';
import { HAND_PROBLEM_CODES } from './hand-problem-codes.ts';
import { LAYOUT_PROBLEM_CODES } from './layout-problem-codes.ts';
import { POINT_PROBLEM_CODES } from './point-problem-codes.ts';
import { TABLE_PROBLEM_CODES } from './table-problem-codes.ts';

/** Every problem that intake can name. Sentences are made in `src/words/`. */
export const INTAKE_PROBLEM_CODES = [
  ...FILE_PROBLEM_CODES,
  ...TABLE_PROBLEM_CODES,
  ...POINT_PROBLEM_CODES,
  ...HAND_PROBLEM_CODES,
  ...LAYOUT_PROBLEM_CODES,
  ...APPLICATION_PROBLEM_CODES,
  ...AREA_PROBLEM_CODES,
] as const;

export type IntakeProblemCode = (typeof INTAKE_PROBLEM_CODES)[number]['code'];

type Entry<C extends IntakeProblemCode> = Extract<(typeof INTAKE_PROBLEM_CODES)[number], { code: C }>;

/** The details of a code: exactly the keys documented above. */
export type IntakeDetails<C extends IntakeProblemCode> = {
  readonly [K in keyof Entry<C>['details']]: Problem['details'][string];
};

const SEVERITIES: ReadonlyMap<string, ProblemSeverity> = new Map(
  INTAKE_PROBLEM_CODES.map(({ code, severity }) => [code, severity]),
);

/** Names a problem of intake at its documented severity, or at the one given where a reader must stop at it. */
export function intakeProblem<C extends IntakeProblemCode>(
  code: C,
  place: ProblemPlace,
  details: IntakeDetails<C>,
  severity?: ProblemSeverity,
): Problem {
  return problem(severity ?? SEVERITIES.get(code) ?? 'error', code, place, details);
}

/**
 * What `RecognisedColumn.assumption` may hold: one of these, or several separated by a space.
 */
export const INTAKE_ASSUMPTIONS = {
  headingSaysWet: 'the heading says wet; not taken as an answer about moisture',
  headingSaysDry: 'the heading says dry; not taken as an answer about moisture',
  clockInDigits: 'the digits are hours, minutes and seconds side by side',
  clockInDays: 'days, or shares of the day, as spreadsheets count',
  secondsByName: 'the heading says seconds',
  percentTakenForGranted: 'no unit stands in the heading; read as percent',
  degreesTakenForGranted: 'no unit stands in the heading; read as degrees',
  coordinateLetters: 'headings x and y read as longitude and latitude because the values are degrees',
  gridLetters: 'headings x and y read as easting and northing because the values can be metres of a map grid',
  onlyCandidate: 'the only column that may hold it; the heading does not name the quantity plainly',
} as const;

export type IntakeAssumption = keyof typeof INTAKE_ASSUMPTIONS;
