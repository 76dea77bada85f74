import { describe, expect, it } from 'vitest';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import type { Inference, TrialDocument } from '../../src/trial/trial-document.ts';
import { onlyResponse, stripsInput, stripTrial } from './report-inputs.ts';

/** Treatments A and B in six blocks; strips stand block by block. */
const VALUES = {
  A: [81, 84, 79, 88, 83, 90],
  B: [86, 85, 84, 90, 89, 92],
};
const RESPONSES = [{ name: 'yield', quantity: 'other' as const, unit: null }];

function report(
  machines: readonly (string | null)[] | null,
  inference: Partial<Inference> = { machineTerm: true },
  changes: Partial<TrialDocument> = {},
  values: Parameters<typeof stripTrial>[0] = VALUES,
) {
  const asked = stripTrial(values, changes);
  const trial = { ...asked.trial, inference: { ...asked.trial.inference, ...inference } };
  return reportFromStrips({ ...stripsInput({ ...asked, trial }, { responses: RESPONSES }), machines });
}

const codes = (machines: Parameters<typeof report>[0], inference?: Partial<Inference>) =>
  report(machines, inference).problems.map(({ code }) => code);
const strips = (nameOf: (treatment: number, block: number) => string | null) =>
  Array.from({ length: 12 }, (_, at) => nameOf(at % 2, at >> 1));
const WITHIN = strips((t, b) => ((t + (b < 3 ? 1 : 0)) % 2 === 0 ? 'old' : 'new'));
const BY_BLOCK = strips((_, b) => (b < 3 ? 'old' : 'new'));
const BY_TREATMENT = strips((t) => (t === 0 ? 'old' : 'new'));

describe('the machine as a term of the model', () => {
  it('takes a difference between machines out of treatments and error alike (law)', () => {
    const raised = (by: number) => ({
      A: VALUES.A.map((value, b) => value + (WITHIN[2 * b] === 'old' ? by : 0)),
      B: VALUES.B.map((value, b) => value + (WITHIN[2 * b + 1] === 'old' ? by : 0)),
    });
    const [plain, other] = [0, 7].map((by) => onlyResponse(report(WITHIN, undefined, {}, raised(by))));
    const own = (of: typeof plain) =>
      of!.anova.filter(({ source }) => ['treatment', 'error'].includes(source));
    own(plain).forEach((row, at) => {
      expect(own(other)[at]!.ss).toBeCloseTo(row.ss!, 8);
      expect(own(other)[at]!.df).toBe(row.df);
    });
    expect(other!.comparisons[0]!.difference).toBeCloseTo(plain!.comparisons[0]!.difference, 9);
    // Two treatments, five df of blocks, one of machines: 12 - 1 - 5 - 1 - 1.
    expect(own(plain).at(-1)!.df).toBe(4);
    const without = onlyResponse(report(WITHIN, {}, {}, raised(7)));
    expect(without.anova.find(({ source }) => source === 'error')!.ss).toBeGreaterThan(
      own(plain).at(-1)!.ss!,
    );
  });

  it('is offered where it can be told, and not where it is in use, in the blocks or the treatments', () => {
    expect(codes(WITHIN, {})).toContain('machineCanBeTerm');
    expect(codes(WITHIN)).not.toContain('machineCanBeTerm');
    for (const machines of [BY_BLOCK, BY_TREATMENT, WITHIN.map((name, at) => (at === 3 ? null : name)), null])
      expect(codes(machines, {})).not.toContain('machineCanBeTerm');
  });

  it('is not needed where each block was cut by one machine: the figures are those without it', () => {
    const asked = report(BY_BLOCK);
    expect(asked.problems.map(({ code }) => code)).toContain('machineGoesWithBlocks');
    expect(onlyResponse(asked).anova).toEqual(onlyResponse(report(BY_BLOCK, {})).anova);
  });

  it('that cut some blocks alone leaves its own part as a term: a shift of either machine changes no difference (law)', () => {
    const machines = strips((t, b) => (b < 2 ? 'third' : (t + b) % 2 === 0 ? 'old' : 'new'));
    const raised = (by: Readonly<Record<string, number>>) => ({
      A: VALUES.A.map((value, b) => value + by[machines[2 * b]!]!),
      B: VALUES.B.map((value, b) => value + by[machines[2 * b + 1]!]!),
    });
    const [plain, other] = [
      { old: 0, new: 0, third: 0 },
      { old: 5, new: -3, third: 11 },
    ].map((by) => report(machines, undefined, {}, raised(by)));
    expect(plain!.problems.map(({ code }) => code)).toContain('machinePartlyInBlocks');
    const rowsOf = (one: typeof plain) => onlyResponse(one!).anova;
    expect(rowsOf(plain).map(({ source, df }) => [source, df])).toEqual([
      ['block', 5],
      ['machine', 1],
      ['treatment', 1],
      ['error', 4],
      ['total', 11],
    ]);
    for (const at of [2, 3]) expect(rowsOf(other)[at]!.ss).toBeCloseTo(rowsOf(plain)[at]!.ss!, 8);
    expect(onlyResponse(other!).answers[0]!.estimate).toBeCloseTo(
      onlyResponse(plain!).answers[0]!.estimate,
      9,
    );
    expect(codes(machines, {})).toContain('machineCanBeTerm');
  });

  it('that lines up with treatments is refused, with what would help', () => {
    const { refusal } = onlyResponse(report(BY_TREATMENT));
    expect(refusal).toMatchObject({ code: 'machineLinesUpInModel' });
    expect(refusal?.message).toContain('treatment');
    const free = onlyResponse(
      report(BY_TREATMENT, { machineTerm: true }, { design: 'completelyRandomized' }),
    );
    expect(free.refusal?.code).toBe('machineLinesUpInModel');
  });

  it('that leaves nothing for the error is refused', () => {
    const values = { A: [81, 84], B: [86, 85], C: [80, 83] };
    const machines = ['x', 'y', 'z', 'y', 'z', 'x'];
    const full = onlyResponse(report(machines, { machineTerm: true }, {}, values));
    expect(full.refusal?.code).toBe('machineLeavesNoError');
    expect(onlyResponse(report(machines, {}, {}, values)).refusal).toBe(null);
  });

  it('leaves out and names a strip of several machines; without two machines it is said and not used', () => {
    const mixed = report(WITHIN.map((name, at) => (at === 3 ? null : name)));
    expect(mixed.problems.filter(({ code }) => code === 'stripOfSeveralMachines')).toHaveLength(1);
    expect(mixed.problems.find(({ code }) => code === 'stripOfSeveralMachines')?.message).toContain('B in 1');
    for (const machines of [null, WITHIN.map(() => 'old')]) {
      expect(codes(machines)).toContain('machinesNotKnown');
      expect(onlyResponse(report(machines)).anova).toEqual(onlyResponse(report(null, {})).anova);
    }
  });

  it('is no term of a split plot, where whole blocks cut by one machine need none', () => {
    const factors = { first: 'till', second: 'seed', split: true };
    const levels: Readonly<Record<string, [string, string]>> = {
      A: ['deep', 'x'],
      B: ['deep', 'y'],
      C: ['flat', 'x'],
      D: ['flat', 'y'],
    };
    const values = { A: [81, 84, 79], B: [86, 85, 84], C: [80, 83, 84], D: [88, 84, 81] };
    const asked = stripTrial(values);
    const treatments = asked.trial.treatments.map((one) => ({ ...one, factorLevels: levels[one.id]! }));
    const machines = Array.from({ length: 12 }, (_, at) => (at % 4 < 2 === at < 6 ? 'old' : 'new'));
    const split = report(machines, { machineTerm: true, factors }, { treatments }, values);
    expect(onlyResponse(split).refusal?.code).toBe('machineInSplitPlot');
    const byBlock = Array.from({ length: 12 }, (_, at) => (at < 4 ? 'old' : 'new'));
    const [asked2, plain] = [true, null].map((machineTerm) =>
      report(byBlock, { machineTerm, factors }, { treatments }, values),
    );
    expect(asked2!.problems.map(({ code }) => code)).toContain('machineGoesWithBlocks');
    expect(onlyResponse(asked2!).anova).toEqual(onlyResponse(plain!).anova);
    expect(onlyResponse(asked2!).anova.length).toBeGreaterThan(0);
  });
});
