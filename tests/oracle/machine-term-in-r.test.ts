import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import { onlyResponse, stripsInput, stripTrial } from '../findings/report-inputs.ts';
import { seededRandom } from '../simulator/seeded-random.ts';
import { type LiveR, rFactor, rVector, startR } from './live-r.ts';

/** The machine as a term of a trial's model is a plain factor between blocks and treatments: R's lm and anova say the same. */
const TOLERANCE = 1e-9;

interface Drawn {
  readonly treatments: number;
  readonly blocks: number;
  readonly machines: number;
  readonly values: readonly (readonly (number | null)[])[];
  /** By block, then treatment. */
  readonly machineOf: readonly number[];
}

/** Machines change between strips, within blocks; of some trials a strip is lost. */
function drawn(seed: number): Drawn {
  const random = seededRandom(seed);
  const whole = (least: number, most: number) => Math.floor(random.between(least, most + 1));
  const [treatments, blocks, machines] = [whole(2, 5), whole(4, 7), whole(2, 3)];
  const machineOf = Array.from({ length: treatments * blocks }, () => whole(0, machines - 1));
  const lost = random.chance(0.4) ? whole(0, treatments * blocks - 1) : -1;
  const values = Array.from({ length: treatments }, (_, t) =>
    Array.from({ length: blocks }, (_, b) => {
      const at = b * treatments + t;
      return at === lost ? null : 80 + 3 * t + 4 * b + 5 * machineOf[at]! + 2 * random.normal();
    }),
  );
  return { treatments, blocks, machines, values, machineOf };
}

function reported({ values, machineOf }: Drawn) {
  const named = Object.fromEntries(values.map((own, t) => [`t${t}`, own]));
  const asked = stripTrial(named);
  const trial = { ...asked.trial, inference: { ...asked.trial.inference, machineTerm: true } };
  const input = stripsInput(
    { ...asked, trial },
    { responses: [{ name: 'yield', quantity: 'other', unit: null }] },
  );
  return onlyResponse(reportFromStrips({ ...input, machines: machineOf.map((m) => `machine ${m}`) }));
}

function inR({ treatments, values, machineOf }: Drawn, code: string): string {
  const kept = machineOf.flatMap((_, at) => {
    const value = values[at % treatments]![Math.floor(at / treatments)]!;
    return value === null ? [] : [{ at, value }];
  });
  return `y <- ${rVector(kept.map(({ value }) => value))};
    b <- ${rFactor(kept.map(({ at }) => Math.floor(at / treatments)))};
    m <- ${rFactor(kept.map(({ at }) => machineOf[at]!))};
    t <- ${rFactor(kept.map(({ at }) => at % treatments))};
    fit <- lm(y ~ b + m + t); ${code}`;
}

let r: LiveR;
beforeAll(async () => {
  r = await startR();
}, 120_000);
afterAll(() => r.close());

describe('trials cut by several machines', () => {
  const trials = Array.from({ length: 30 }, (_, k) => drawn(4100 + k));

  it('tables, differences and their errors are those of R', async () => {
    let compared = 0;
    for (const trial of trials) {
      const report = reported(trial);
      if (report.refusal !== null) {
        // What R cannot estimate has no coefficient there.
        const missing = await r.numbers(inR(trial, 'c(sum(is.na(coef(fit))), fit$df.residual)'));
        expect(missing[0]! > 0 || missing[1] === 0, report.refusal.message).toBe(true);
        continue;
      }
      compared += 1;
      const anova = await r.numbers(
        inR(trial, 'd <- drop1(fit); e <- deviance(fit); c(d$Df[-1], fit$df.residual, d$`Sum of Sq`[-1], e)'),
      );
      const rows = report.anova.filter(({ source }) => source !== 'total');
      expect(rows.map(({ source }) => source)).toEqual(['block', 'machine', 'treatment', 'error']);
      expect(rows.map(({ df }) => df)).toEqual(anova.slice(0, 4));
      rows.forEach(({ ss }, at) => {
        expect(Math.abs(ss! - anova[4 + at]!)).toBeLessThan(
          TOLERANCE * anova.slice(4).reduce((a, c) => a + c),
        );
      });
      const ofTreatments = await r.numbers(
        inR(
          trial,
          's <- summary(fit)$coefficients; s <- s[grepl("^t", rownames(s)), , drop = FALSE]; c(s[, 1], s[, 2])',
        ),
      );
      const count = ofTreatments.length / 2;
      for (let t = 1; t <= count; t++) {
        const own = report.comparisons.find(
          ({ a, b, procedure }) => a === `t${t}` && b === 't0' && procedure === 'lsd',
        )!;
        expect(Math.abs(own.difference - ofTreatments[t - 1]!)).toBeLessThan(1e-8);
        expect(Math.abs(own.standardError! - ofTreatments[count + t - 1]!)).toBeLessThan(1e-8);
      }
    }
    expect(compared).toBeGreaterThan(20);
  }, 120_000);
});
