import { describe, expect, it } from 'vitest';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { harvestPoints } from '../../src/harvest/harvest-points.ts';
import { type PointRow, pointsFile, trialOfStrips } from './field-of-strips.ts';

/** Two machines side by side, one a strip, both logging each second of the same hour. */
const drive = (strip: number): PointRow[] =>
  Array.from({ length: 140 }, (_, t) => ({
    eastM: 12 * strip + 6,
    northM: 10 + 2 * t,
    timeS: t,
    distanceM: 2,
    widthM: 12,
    yieldKgPerHa: 7000 + 500 * strip + 60 * Math.sin(2.3 * t + strip),
  }));
const [FIRST, SECOND] = [drive(0), drive(1)];
const TRIAL = trialOfStrips(2, 12, 300);

function withMachines(
  rows: readonly PointRow[],
  names: readonly string[],
  of: readonly number[],
): HarvestPointsInput {
  return { ...pointsFile(rows), machine: { names, of: Int16Array.from(of) } };
}

function harvested(file: HarvestPointsInput) {
  const outcome = harvestPoints(TRIAL, [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const { strips, assumptions } = outcome.value;
  return {
    yields: strips.map(({ values }) => values.yield),
    said: [...outcome.problems, ...assumptions].map(({ code }) => code),
  };
}

const BY_TURNS = FIRST.flatMap((one, t) => [one, SECOND[t]!]);
const EXPECTED = harvested(
  pointsFile([...FIRST, ...SECOND.map((row) => ({ ...row, timeS: row.timeS! + 900 }))]),
);

describe('two machines that write into one file by turns', () => {
  it('are taken apart by the column that names them, as if one had followed the other (law), and that is said', () => {
    const { yields, said } = harvested(
      withMachines(
        BY_TURNS,
        ['a', 'b'],
        BY_TURNS.map((_, i) => i % 2),
      ),
    );
    expect(yields).toEqual(EXPECTED.yields);
    expect(said).toContain('rowsPutInOrder');
    expect(said).not.toContain('positionsJump');
  });

  it('are told by their jumps where no column names them', () => {
    expect(harvested(pointsFile(BY_TURNS)).said).not.toContain('rowsPutInOrder');
    const apart = BY_TURNS.map((row, i) => ({ ...row, timeS: i / 2 }));
    expect(harvested(pointsFile(apart)).said).toContain('positionsJump');
    expect(EXPECTED.said).not.toContain('positionsJump');
  });
});
