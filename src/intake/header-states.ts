import { type CellTally, tallyOf } from './number-column.ts';

/** 1: cutting, 0: header up or not harvesting, 255: not recorded. */
export interface HeaderStates {
  readonly states: Uint8Array;
  readonly unreadable: CellTally;
}

export const HEADER_NOT_RECORDED = 255;

const DOWN = new Set([
  '1',
  'down',
  'lowered',
  'on',
  'true',
  'yes',
  'y',
  'working',
  'harvesting',
  'cutting',
  'active',
]);
const UP = new Set([
  '0',
  'up',
  'raised',
  'off',
  'false',
  'no',
  'n',
  'idle',
  'not working',
  'inactive',
  'stopped',
]);

export function readHeaderStates(cells: readonly string[]): HeaderStates {
  const words = cells.map((cell) => cell.trim().toLowerCase());
  const states = Uint8Array.from(words, (word) =>
    DOWN.has(word) ? 1 : UP.has(word) ? 0 : HEADER_NOT_RECORDED,
  );
  const isUnreadable = (word: string, index: number) => word !== '' && states[index] === HEADER_NOT_RECORDED;
  return { states, unreadable: tallyOf(cells, (index) => isUnreadable(words[index] ?? '', index)) };
}
