import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bartlett } from '../../analyses/bartlett.ts';
import { friedman } from '../../analyses/friedman.ts';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import { powerTwoSidedT } from '../../analyses/power-two-sided-t.ts';
import { isRefusal } from '../../analyses/refusal.ts';
import { responseFromValues } from '../../analyses/response.ts';
import { shapiroWilk } from '../../analyses/shapiro-wilk.ts';
import { signedRank } from '../../analyses/signed-rank.ts';
import { studentizedResiduals } from '../../analyses/studentized-residuals.ts';
import { accepted, expectRelative } from '../analyses/fixture-data.ts';
import { type LiveR, rFactor, rVector, startR } from './live-r.ts';

const SEED = 1965;
const values = (least: number, most: number) =>
  fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: least, maxLength: most });

describe('checks of assumptions against R on random data (seeded)', () => {
  let r: LiveR;
  beforeAll(async () => {
    r = await startR();
  });
  afterAll(() => r.close());

  it('Shapiro-Wilk, 3 to 60 values (W 1e-10, p 1e-7)', async () => {
    let compared = 0;
    for (const sample of fc.sample(values(3, 60), { seed: SEED, numRuns: 80 })) {
      const got = shapiroWilk(sample);
      if (isRefusal(got)) continue;
      const [w, p] = await r.numbers(`h <- shapiro.test(${rVector(sample)}); c(h$statistic, h$p.value)`);
      expectRelative(got.w, w!, 1e-10, `W of ${sample.length}`);
      // R gives 1e-99 where the approximation ends for 4 to 11 values; here that is 0
      if (p! > 1e-50)
        expect(Math.abs(got.p - p!), `p of ${sample.length}`).toBeLessThan(1e-7 * Math.max(p!, 1e-3));
      compared++;
    }
    expect(compared).toBeGreaterThan(70);
  });

  it('Bartlett on unequal groups (1e-9)', async () => {
    const groups = fc.array(values(2, 9), { minLength: 2, maxLength: 6 });
    let compared = 0;
    for (const sample of fc.sample(groups, { seed: SEED, numRuns: 40 })) {
      const got = bartlett(sample);
      if (isRefusal(got)) continue;
      const group = sample.flatMap((own, i) => own.map(() => i));
      const [k2, p] = await r.numbers(
        `h <- bartlett.test(${rVector(sample.flat())}, ${rFactor(group)}); c(h$statistic, h$p.value)`,
      );
      expectRelative(got.chiSquared, k2!, 1e-9, 'K2');
      expectRelative(got.p, p!, 1e-9, 'p');
      compared++;
    }
    expect(compared).toBeGreaterThan(30);
  });

  it('Friedman with ties (1e-10)', async () => {
    const tables = fc
      .tuple(fc.integer({ min: 2, max: 6 }), fc.integer({ min: 2, max: 7 }))
      .chain(([blocks, treatments]) => {
        const row = fc.array(fc.integer({ min: 0, max: 9 }), {
          minLength: treatments,
          maxLength: treatments,
        });
        return fc.array(row, { minLength: blocks, maxLength: blocks });
      });
    let compared = 0;
    for (const table of fc.sample(tables, { seed: SEED, numRuns: 40 })) {
      const got = friedman(table);
      if (isRefusal(got)) continue;
      const [chiSquared, p] = await r.numbers(
        `h <- friedman.test(matrix(${rVector(table.flat())}, nrow = ${table.length}, byrow = TRUE)); c(h$statistic, h$p.value)`,
      );
      expect(Math.abs(got.chiSquared - chiSquared!)).toBeLessThan(1e-10 * (1 + chiSquared!));
      expect(Math.abs(got.p - p!)).toBeLessThan(1e-10);
      compared++;
    }
    expect(compared).toBeGreaterThan(30);
  });

  it('signed ranks without ties, exactly', async () => {
    for (const n of [3, 6, 11, 20, 45]) {
      const differences = Array.from({ length: n }, (_, i) => ((i * 7) % 3 === 0 ? -1 : 1) * (i + 0.5));
      const got = accepted(signedRank(differences));
      const [v, p] = await r.numbers(
        `h <- wilcox.test(${rVector(differences)}, exact = TRUE); c(h$statistic, h$p.value)`,
      );
      expect(got.v).toBe(v);
      expectRelative(got.p, p!, 1e-12, `n ${n}`);
    }
  });

  it('externally studentized residuals and leverages in incomplete blocks', async () => {
    const [block, treatment] = [
      [0, 0, 0, 1, 1, 2, 2, 2, 3, 3, 3],
      [0, 1, 2, 0, 2, 0, 1, 2, 0, 1, 2],
    ];
    for (const sample of fc.sample(values(11, 11), { seed: SEED, numRuns: 10 })) {
      const terms = [
        { kind: 'factor', id: 'b', levelOfPlot: block!, levelCount: 4 },
        { kind: 'factor', id: 't', levelOfPlot: treatment!, levelCount: 3 },
      ] as const;
      const got = accepted(studentizedResiduals(accepted(fitLinearModel(responseFromValues(sample), terms))));
      const want = await r.numbers(
        `m <- lm(${rVector(sample)} ~ ${rFactor(block!)} + ${rFactor(treatment!)}); c(hatvalues(m), rstudent(m))`,
      );
      got.residuals.forEach((row, i) => {
        expectRelative(row.leverage, want[i]!, 1e-10, 'leverage');
        expect(Math.abs(row.t! - want[11 + i]!), 't').toBeLessThan(1e-8 * (1 + Math.abs(want[11 + i]!)));
      });
    }
  });

  it('power of a two-sided t, both directions counted (1e-8)', async () => {
    for (const [n, delta] of [
      [2, 3],
      [4, 1],
      [8, 1.2],
      [30, 0.4],
    ] as const) {
      const [power] = await r.numbers(
        `power.t.test(n = ${n}, delta = ${delta}, sd = 1, strict = TRUE)$power`,
      );
      const got = powerTwoSidedT(delta / Math.sqrt(2 / n), 2 * (n - 1), 0.05);
      expect(Math.abs(got - power!), `n ${n}`).toBeLessThan(1e-8);
    }
  });
});
