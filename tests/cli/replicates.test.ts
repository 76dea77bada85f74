import { describe, expect, it } from 'vitest';
import { detectableInUsualBlocks, planReplicates } from '../../src/pipeline/plan-replicates.ts';
import { replicatesText } from '../../src/words/replicates-sentences.ts';
import { fixtureTable } from '../analyses/fixture-data.ts';
import { stripverdict } from './run-stripverdict.ts';

const words = ['replicates', '--treatments', '2', '--cv', '5', '--difference', '10', '--alpha', '0.05'];

describe('stripverdict replicates', () => {
  it('gives exactly the four keys of the contract, with the tabulated seven blocks', () => {
    const ran = stripverdict([...words, '--power', '0.8', '--json']);
    expect(ran.code).toBe(0);
    const answer = JSON.parse(ran.out) as Record<string, number>;
    expect(Object.keys(answer)).toEqual(['replicates', 'errorDf', 'power', 'detectableDifferencePercent']);
    // Two treatments, CV 5 %, difference 10 %, power .8, alpha .05: fixtures/power-tables.
    expect(answer).toMatchObject({ replicates: 7, errorDf: 6 });
    expect(answer.power!).toBeGreaterThanOrEqual(0.8);
    expect(answer.detectableDifferencePercent!).toBeLessThanOrEqual(10);
  });

  it('refuses what it cannot reckon with, as one JSON object with its problems', () => {
    const ran = stripverdict([...words.slice(0, -1), '0.7', '--json']);
    expect(ran.code).toBe(2);
    const report = JSON.parse(ran.out) as { problems: { code: string; message: string }[] };
    expect(report.problems[0]).toMatchObject({ code: 'argumentsWrong' });
    expect(report.problems[0]!.message).toMatch(/--alpha takes a number above 0 and at most 0.5/);
  });

  it('answers every row of the table of replicates (fixtures/power-tables)', () => {
    for (const row of fixtureTable('power-tables/replicates-needed-rcbd-pairwise.csv')) {
      const answer = planReplicates({
        treatments: Number(row.t),
        cvPercent: Number(row.cv_pct),
        differencePercent: Number(row.delta_pct),
        power: Number(row.power),
        alpha: Number(row.alpha),
      });
      expect(answer.replicates, JSON.stringify(row)).toBe(Number(row.reps));
    }
  });

  it('is firm where no field holds the blocks, and tells what usual numbers of blocks find', () => {
    const question = { treatments: 2, cvPercent: 5, differencePercent: 5, power: 0.8, alpha: 0.05 };
    const figures = { ...question, ...planReplicates(question), wantedPower: 0.8 };
    const text = replicatesText(figures, detectableInUsualBlocks(question));
    // 18 blocks; two blocks find nothing short of 82 % (practice of the trade, computed).
    expect(text).toMatch(/^18 blocks find a difference of 5 % of the mean/);
    expect(text).toMatch(/Hopeless on one field/);
    expect(text).toMatch(/2 blocks find 81\.\d %/);
    const easy = { ...question, differencePercent: 20 };
    const plain = replicatesText(
      { ...easy, ...planReplicates(easy), wantedPower: 0.8 },
      detectableInUsualBlocks(easy),
    );
    expect(plain).not.toMatch(/Hopeless/);
  });
});
