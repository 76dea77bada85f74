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
  /** The last machine cut its blocks alone and no strip elsewhere: some of the machines' difference is one of blocks. */
  readonly isPartly: boolean;
}

/** Machines change between strips, within blocks; of some trials a strip is lost. */
function drawn(seed: number, isPartly = false): Drawn {
  const random = seededRandom(seed);
  const whole = (least: number, most: number) => Math.floor(random.between(least, most + 1));
  const [treatments, blocks, machines] = [whole(2, 5), whole(4, 7), whole(2, 3)];
  const alone = isPartly ? whole(1, blocks - 2) : 0;
  const machineOf = Array.from({ length: treatments * blocks }, (_, at) =>
    at < alone * treatments ? machines : whole(0, machines - 1),
  );
  const lost = random.chance(0.4) ? whole(0, treatments * blocks - 1) : -1;
  const values = Array.from({ length: treatments }, (_, t) =>
    Array.from({ length: blocks }, (_, b) => {
      const at = b * treatments + t;
      return at === lost ? null : 80 + 3 * t + 4 * b + 5 * machineOf[at]! + 2 * random.normal();
    }),
  );
  return { treatments, blocks, machines, values, machineOf, isPartly };
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
  const trials = Array.from({ length: 34 }, (_, k) => drawn(4100 + k, k >= 18));

  it('tables, differences and their errors are those of R, also where blocks tell some machines', async () => {
    const compared = { partly: 0, whole: 0 };
    for (const trial of trials) {
      const report = reported(trial);
      if (report.refusal !== null) {
        // Treatments stand last: one that R cannot estimate beside blocks and machines has no coefficient there.
        const missing = await r.numbers(
          inR(trial, 'k <- coef(fit); c(sum(is.na(k[grepl("^t", names(k))])), fit$df.residual)'),
        );
        expect(missing[0]! > 0 || missing[1] === 0, report.refusal.message).toBe(true);
        continue;
      }
      compared[trial.isPartly ? 'partly' : 'whole'] += 1;
      const anova = await r.numbers(
        inR(trial, 'd <- drop1(fit); e <- deviance(fit); c(d$Df[-1], fit$df.residual, d$`Sum of Sq`[-1], e)'),
      );
      // What machines share with blocks stays with the blocks here, and with neither in drop1.
      const sources = ['block', 'machine', 'treatment', 'error'].slice(trial.isPartly ? 1 : 0);
      const total = anova.slice(4).reduce((sum, ss) => sum + ss);
      for (const source of sources) {
        const inR = sources.indexOf(source) + (trial.isPartly ? 1 : 0);
        const { df, ss } = report.anova.find((row) => row.source === source) ?? { df: 0, ss: 0 };
        expect(df).toBe(anova[inR]);
        expect(Math.abs(ss! - anova[4 + inR]!)).toBeLessThan(TOLERANCE * total);
      }
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
    expect(compared.whole).toBeGreaterThan(12);
    expect(compared.partly).toBeGreaterThan(10);
  }, 120_000);
});
