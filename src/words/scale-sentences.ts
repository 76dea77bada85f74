import { pValue } from './number-formats.ts';

const DOUBTFUL_P = 0.1;

/** What the ratio of monitor to scale says of the monitor. */
export function scaleSentence(p: number | null): string {
  if (p === null)
    return 'Whether the monitor reads some treatments higher than others cannot be tested on these loads.';
  const said = pValue(p);
  const shown = /^[<>]/.test(said) ? `p ${said}` : `p = ${said}`;
  return p < DOUBTFUL_P
    ? `The monitor reads some treatments higher than others against the scale (${shown}): without weights it would have misled.`
    : `The ratio of monitor to scale does not differ between treatments beyond chance (${shown}).`;
}

export const LOAD_USE_WORDS = {
  strip: 'yield of its strip',
  sumOfTreatment: 'sum of its strips',
  level: 'level of the monitor',
} as const;
