import type { PassListFault } from '../trial/pass-list.ts';

const FAULTS: Readonly<Record<PassListFault, string>> = {
  notAPass: 'it is no number of a pass, nor two with a dash between',
  backwards: 'a range goes from the lower number to the higher',
  beyond: 'there is no pass of so high a number',
  twice: 'a pass is named twice',
};

/** What is wrong with a list of passes, in a clause. */
export function passListFaultWords(fault: string): string {
  return FAULTS[fault as PassListFault] ?? fault;
}
