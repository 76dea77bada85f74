/** Whether a text is a latitude or a longitude decides which letters may stand beside it. */
export type Axis = 'longitude' | 'latitude';

const NUMBER = String.raw`(\d{1,3}(?:[.,]\d+)?)`;
/** Signs of degrees, minutes and seconds, whatever an encoding made of them. */
const BETWEEN = String.raw`(?:[^\d.,A-Za-z+-]+|\s*deg\s*)`;
const DEGREES = new RegExp(
  String.raw`^([NSEW])?\s*([+-])?${NUMBER}(?:${BETWEEN}${NUMBER})?(?:${BETWEEN}${NUMBER})?[^\d.,A-Za-z+-]*(?:deg)?\s*([NSEW])?$`,
  'i',
);
const LETTERS = { longitude: { E: 1, W: -1 }, latitude: { N: 1, S: -1 } } as const;

/**
 * Decimal degrees of "48°08'12.3\"N", "48 08.205 N", "N 48.1367" or "-93 30 12"; NaN for anything else, also for 60
 * minutes and more, and for a letter of the other axis. A plain decimal number is read too.
 */
export function readDegreeText(text: string, axis: Axis): number {
  const match = DEGREES.exec(text.trim().replace('\u2212', '-'));
  if (match === null) return Number.NaN;
  const [, before, sign, degreesText = '', minutesText, secondsText, after] = match;
  const [degrees, minutes, seconds] = [degreesText, minutesText, secondsText].map(part);
  if (degrees === undefined || minutes === undefined || seconds === undefined) return Number.NaN;
  if (isBroken(degreesText, minutesText) || isBroken(minutesText, secondsText)) return Number.NaN;
  if (minutes >= 60 || seconds >= 60 || (before !== undefined && after !== undefined)) return Number.NaN;
  const side = sideOf(before ?? after, sign, axis);
  return side * (degrees + minutes / 60 + seconds / 3600);
}

function part(text: string | undefined): number {
  return text === undefined ? 0 : Number(text.replace(',', '.'));
}

/** "48.5 30" is no position: only the last part may have decimals. */
function isBroken(text: string | undefined, next: string | undefined): boolean {
  return next !== undefined && /[.,]/.test(text ?? '');
}

function sideOf(letter: string | undefined, sign: string | undefined, axis: Axis): number {
  if (letter === undefined) return sign === '-' ? -1 : 1;
  const letters: Readonly<Record<string, number>> = LETTERS[axis];
  return sign === undefined ? (letters[letter.toUpperCase()] ?? Number.NaN) : Number.NaN;
}
