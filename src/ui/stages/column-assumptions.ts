import type { IntakeAssumption } from '../../intake/problem-codes.ts';

const WORDS: Readonly<Record<IntakeAssumption, string>> = {
  headingSaysWet: 'its heading says wet; please confirm above',
  headingSaysDry: 'its heading says dry; please say above at which moisture',
  clockInDigits: 'its digits are hours, minutes and seconds side by side',
  clockInDays: 'days or shares of the day, as spreadsheets count',
  secondsByName: 'the heading says seconds',
  percentTakenForGranted: 'no unit stands there, taken as percent',
  degreesTakenForGranted: 'no unit stands there, taken as degrees',
  coordinateLetters: 'x and y hold degrees, so they are taken as longitude and latitude',
  gridLetters: 'x and y can be metres of a map grid, so they are taken as easting and northing',
  onlyCandidate: 'found by its unit and its values; the heading does not say it plainly',
};

/** How a column came to be read as it is, in words; several assumptions stand behind one another. */
export function assumptionWords(codes: string | null): string {
  if (codes === null) return '';
  return codes
    .split(' ')
    .map((code) => (Object.hasOwn(WORDS, code) ? WORDS[code as IntakeAssumption] : code))
    .join('; ');
}
