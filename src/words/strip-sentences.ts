import { setAsideWords } from './set-aside-words.ts';

/** Why a strip takes no part in the analysis. `mostOften` is the commonest reason to set its points aside. */
export function notUsedBecause(why: 'noBlock' | 'noValue' | 'noPointKept', mostOften: string | null): string {
  if (why === 'noBlock') return 'belongs to no block';
  if (why === 'noValue') return 'no value was measured';
  return mostOften === null
    ? 'no point lay in it'
    : `no point was kept (most often: ${setAsideWords(mostOften)})`;
}
