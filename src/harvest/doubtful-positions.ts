import { type Problem, problem } from '../trial/problem.ts';
import type { MeasuredFile } from './measured-file.ts';
import { JUMPED } from './position-faults.ts';

/** More jumps than this are no matter of single fixes. */
const JUMPED_SHARE = 0.1;

/**
 * Do so many positions lie farther off than the machine can have driven that something is wrong with the file itself:
 * rows of two machines in turn, rows in no order, or distances and speeds in another unit than was taken?
 */
export function doubtfulPositions(
  files: readonly Pick<MeasuredFile, 'input' | 'positionFaults'>[],
): Problem[] {
  return files.flatMap(({ input: { file, count }, positionFaults }) => {
    let jumped = 0;
    for (const fault of positionFaults ?? []) if (fault === JUMPED) jumped += 1;
    if (jumped <= JUMPED_SHARE * count) return [];
    return [problem('warning', 'positionsJump', { file }, { jumped, sharePercent: (100 * jumped) / count })];
  });
}
