import { describe, expect, it } from 'vitest';
import { reportFromPlotTable } from '../../src/findings/report-from-plot-table.ts';
import { type Cell, fixtureCells, onlyResponse, tableInput } from './report-inputs.ts';

const rice = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');

function decidedBy(cells: readonly Cell[], changes: Parameters<typeof tableInput>[1]) {
  return onlyResponse(reportFromPlotTable(tableInput(cells, changes)));
}

describe('what decides', () => {
  it('LSD decides only if chosen, and the answer then states the chance of a false Real', () => {
    // Four treatments in four blocks at .05, all pairs: .18 (design; computed from the studentized range).
    const four = rice.filter(([rate]) => ['25', '50', '75', '100'].includes(rate));
    const response = decidedBy(four, { decidedBy: 'lsd' });
    expect(response.decidedBy!.procedure).toBe('lsd');
    expect(response.decidedBy!.chanceOfOneFalseReal!.toFixed(2)).toBe('0.18');
    expect(response.answers[0]!.reasons.join(' ')).toMatch(
      /at least one of the 6 differences Real would be 18 %/,
    );
    expect(decidedBy(four, {}).decidedBy!.procedure).not.toBe('lsd');
  });

  it('calls nothing Real by the protected LSD unless F is significant, whatever the LSD says', () => {
    // F of this example is not significant (p = .113), yet 75 against 125 and 150 exceed the LSD of 501 kg/ha.
    const plain = decidedBy(rice, { decidedBy: 'lsd' });
    const guarded = decidedBy(rice, { protectedLsd: true });
    const reals = (answers: typeof plain.answers) =>
      answers.filter(({ difference }) => difference === 'Real');
    expect(reals(plain.answers).map(({ a, b }) => [a, b])).toEqual([
      ['125', '75'],
      ['150', '75'],
    ]);
    expect(reals(guarded.answers)).toEqual([]);
    expect(guarded.decidedBy).toMatchObject({ procedure: 'protectedLsd' });
    expect(guarded.answers[0]!.reasons.join(' ')).toMatch(/F test is not significant/);
    expect(guarded.comparisons).toEqual(plain.comparisons);
  });

  it('widens the intervals by Bonferroni and never adds a Real to what the LSD calls', () => {
    const lsd = decidedBy(rice, { decidedBy: 'lsd', check: '25' });
    const guarded = decidedBy(rice, { decidedBy: 'bonferroni', check: '25' });
    guarded.answers.forEach((answer, i) => {
      expect(answer.interval.lower!).toBeLessThan(lsd.answers[i]!.interval.lower!);
      expect(answer.interval.upper!).toBeGreaterThan(lsd.answers[i]!.interval.upper!);
    });
    const rows = guarded.comparisons.filter(({ procedure }) => procedure === 'bonferroni');
    // Dunn (1961): adjusted p = min(1, m p).
    for (const row of rows) expect(row.p).toBeCloseTo(Math.min(1, 5 * row.pUnadjusted!), 14);
  });

  it('Holm calls Real all that Bonferroni does, and shows its intervals as Bonferroni’s', () => {
    const holm = decidedBy(rice, { decidedBy: 'holm' });
    expect(holm.answers[0]!.interval.procedure).toBe('bonferroni');
    expect(holm.comparisons.filter(({ procedure }) => procedure === 'holm')).toHaveLength(15);
    const byHolm = holm.comparisons.filter(({ procedure }) => procedure === 'holm').map(({ p }) => p!);
    const byBonferroni = holm.comparisons
      .filter(({ procedure }) => procedure === 'bonferroni')
      .map(({ p }) => p!);
    byHolm.forEach((p, i) => {
      expect(p).toBeLessThanOrEqual(byBonferroni[i]! + 1e-15);
    });
  });

  it('compares named pairs alone, the earlier treatment as b', () => {
    const named = decidedBy(rice, {
      comparisons: 'named',
      namedPairs: [
        ['25', '75'],
        ['150', '50'],
      ],
    });
    expect(named.answers.map(({ a, b }) => [a, b])).toEqual([
      ['75', '25'],
      ['150', '50'],
    ]);
    expect(named.decidedBy!.procedure).toBe('bonferroni');
  });

  it('leaves the choice to the question: Dunnett against a check, Tukey for all pairs, t for one pair', () => {
    expect(decidedBy(rice, {}).decidedBy!.procedure).toBe('tukey');
    expect(decidedBy(rice, { check: '25' }).decidedBy!.procedure).toBe('dunnett');
    const two = rice.filter(([rate]) => rate === '25' || rate === '75');
    expect(decidedBy(two, {}).decidedBy!.procedure).toBe('t');
  });

  it('shows every procedure on the comparisons it is made for, and lets none but the deciding one change a verdict', () => {
    const count = (response: ReturnType<typeof decidedBy>) =>
      ['lsd', 'tukey', 'dunnett', 'bonferroni', 'holm'].map(
        (name) => response.comparisons.filter(({ procedure }) => procedure === name).length,
      );
    expect(count(decidedBy(rice, { check: '25' }))).toEqual([15, 15, 5, 5, 5]);
    expect(count(decidedBy(rice, {}))).toEqual([15, 15, 0, 15, 15]);
    expect(Object.keys(decidedBy(rice, {}).means[0]!.letters)).toEqual([
      'lsd',
      'tukey',
      'bonferroni',
      'holm',
    ]);
    // The LSD calls 75 against 125 and 150 different; Tukey, which decides, does not (adjusted p .17 in R).
    expect(new Set(decidedBy(rice, {}).answers.map((own) => own.difference))).toEqual(
      new Set(['Not settled']),
    );
    const two = rice.filter(([rate]) => rate === '25' || rate === '75');
    expect(count(decidedBy(two, { decidedBy: 'tukey' }))).toEqual([1, 1, 0, 0, 0]);
  });

  it('gives LSD letters from the best mean down, and from the lowest where less is better', () => {
    const high = decidedBy(rice, {}).means;
    const low = decidedBy(rice, { better: 'lower' }).means;
    expect(high.find(({ treatment }) => treatment === '75')!.letters.lsd).toBe('a');
    expect(high.find(({ treatment }) => treatment === '150')!.letters.lsd).toBe('b');
    expect(low.find(({ treatment }) => treatment === '150')!.letters.lsd).toBe('a');
    expect(low.find(({ treatment }) => treatment === '75')!.letters.lsd).toBe('b');
  });
});
