import { describe, expect, it } from 'vitest';
import { fitLinearModel } from '../../analyses/linear-model.ts';
import type { Response } from '../../analyses/response.ts';
import { accepted, agreeingDigits, fixtureExpected, fixtureTable } from './fixture-data.ts';

interface Certified {
  readonly n: number;
  readonly groups: number;
  readonly dfBetween: number;
  readonly ssBetween: string;
  readonly F: string;
  readonly dfWithin: number;
  readonly ssWithin: string;
  readonly residualSd: string;
  readonly digitsOfF: Readonly<Record<string, number>>;
}

interface Grouped {
  readonly levelOfPlot: number[];
  readonly texts: string[];
}

const { sets } = fixtureExpected<{ sets: Readonly<Record<string, Certified>> }>('nist-anova');
const SIMON_LESAGE = /^SmLs0(\d)$/;
const GROUP_SIZES = [21, 201, 2001];
const WHOLE_PARTS = ['1', '1000000', '1000000000000'];

/** The rule of the generated sets (simonLesageRule in the fixture), as decimal text. */
function generated(index: number): Grouped {
  const size = GROUP_SIZES[index % 3]!;
  const bases = basesOfGroups();
  const whole = WHOLE_PARTS[Math.floor(index / 3)]!;
  const levelOfPlot: number[] = [];
  const texts: string[] = [];
  bases.forEach((base, group) => {
    for (let i = 0; i < size; i++) {
      const tenths = base + (i === 0 ? 0 : i % 2 === 1 ? -1 : 1);
      levelOfPlot.push(group);
      texts.push(`${whole}.${tenths}`);
    }
  });
  return { levelOfPlot, texts };
}

/** Base of each group, in tenths after the whole part: its first value in SmLs01. */
function basesOfGroups(): number[] {
  const table = fixtureTable('nist-anova/SmLs01.csv');
  const groups = [...new Set(table.map((row) => row.group!))];
  return groups.map((group) => Number(table.find((row) => row.group === group)!.response!.split('.')[1]));
}

function fromFile(name: string): Grouped {
  const table = fixtureTable(`nist-anova/${name}.csv`);
  return { levelOfPlot: table.map((row) => Number(row.group) - 1), texts: table.map((row) => row.response!) };
}

/** Deviations from the first value, taken off the decimal text in whole units of the last digit. */
function exactDeviations(texts: readonly string[]): Response {
  const decimals = Math.max(...new Set(texts.map((text) => text.split('.')[1]!.length)));
  const units = texts.map((text) => {
    const [whole, fraction] = text.split('.') as [string, string];
    return BigInt(whole + fraction.padEnd(decimals, '0'));
  });
  const deviations = units.map((unit) => Number(unit - units[0]!) / 10 ** decimals);
  return { origin: Number(texts[0]), deviations };
}

function setNamed(name: string): Grouped {
  const index = SIMON_LESAGE.exec(name)?.[1];
  return index === undefined ? fromFile(name) : generated(Number(index) - 1);
}

describe('NIST StRD analysis of variance, from deviations off the decimal text', () => {
  it('holds all eleven sets', () => {
    expect(Object.keys(sets)).toHaveLength(11);
  });

  it.each(['SmLs01', 'SmLs04', 'SmLs07'])('the rule gives %s as NIST prints it', (name) => {
    expect(setNamed(name)).toEqual(fromFile(name));
  });

  it.each(Object.entries(sets))('%s: F, sums of squares and residual sd to 14 digits', (name, certified) => {
    const { levelOfPlot, texts } = setNamed(name);
    const term = { kind: 'factor', id: 'group', levelOfPlot, levelCount: certified.groups } as const;
    const fit = accepted(fitLinearModel(exactDeviations(texts), [term]));
    const row = fit.rows[0]!;
    expect([fit.n, row.df, fit.error.df]).toEqual([certified.n, certified.dfBetween, certified.dfWithin]);
    expect(agreeingDigits(row.ss, Number(certified.ssBetween))).toBeGreaterThanOrEqual(14);
    expect(agreeingDigits(fit.error.ss, Number(certified.ssWithin))).toBeGreaterThanOrEqual(14);
    expect(agreeingDigits(Math.sqrt(fit.error.ms!), Number(certified.residualSd))).toBeGreaterThanOrEqual(14);
    const digits = agreeingDigits(row.f!, Number(certified.F));
    expect(digits).toBeGreaterThanOrEqual(14);
    for (const [peer, reached] of Object.entries(certified.digitsOfF))
      expect(digits, `against ${peer}`).toBeGreaterThanOrEqual(Math.min(reached, 14));
  });
});
