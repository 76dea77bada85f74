import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { reportModelSchema } from '../../src/findings/report-model.ts';
import { expectRelative, fixtureExpected } from '../analyses/fixture-data.ts';
import { onlyResponse, sourceRow } from './report-inputs.ts';
import { fixtureText, reportOfFixture, reportOfText } from './table-questions.ts';

/** CSV in, report out. Published examples and R 4.2.2, see SOURCE.md of each fixture. */
const R = 1e-9;

interface Anova {
  readonly anova: Record<
    string,
    { readonly df: number; readonly ss: number; readonly F: number | null; readonly p: number | null }
  >;
}

describe('a Latin square (maize hybrids, Gomez & Gomez 1984, Tables 2.7 and 2.8)', () => {
  const { computed } = fixtureExpected<{ computed: Anova & { summary: Record<string, number> } }>(
    'gomez-maize-latin-square',
  );
  const asked = { treatment: 'hybrid', responses: ['yield'], design: { row: 'row', column: 'col' } };
  const response = onlyResponse(reportOfFixture('gomez-maize-latin-square', asked));

  it('has the published analysis of variance', () => {
    expect(response.design).toBe('latinSquare');
    expect(response.anova.map(({ source }) => source)).toEqual([
      'row',
      'column',
      'treatment',
      'error',
      'total',
    ]);
    for (const [source, key] of [
      ['row', 'row'],
      ['column', 'col'],
      ['treatment', 'hybrid'],
    ] as const) {
      expectRelative(sourceRow(response, source).ss, computed.anova[key]!.ss, R);
      expectRelative(sourceRow(response, source).f, computed.anova[key]!.F!, R);
      expectRelative(sourceRow(response, source).p, computed.anova[key]!.p!, R);
    }
    expect(sourceRow(response, 'treatment').f!.toFixed(2)).toBe('6.59');
    expect(response.cvPercent!.toFixed(1)).toBe('11.0');
    expectRelative(response.lsd.value, computed.summary.lsd05!, R);
    expectRelative(response.standardErrorOfDifference, computed.summary.se_diff!, R);
  });

  it('judges all pairs by Tukey with the tabulated honest difference', () => {
    const { interval, estimate } = response.answers[0]!;
    expectRelative(interval.upper! - estimate, computed.summary.hsd05!, 1e-7);
    expect(response.decidedBy!.procedure).toBe('tukey');
  });

  it('does not shuffle a square as if it were blocks, and says why', () => {
    const [own] = response.agreement;
    expect(own).toMatchObject({ id: 'randomization', p: null, inDoubt: null });
    expect(own!.meaning).toMatch(/not simply shuffles within blocks/);
  });

  it('goes on by least squares with a plot lost, and says that it is no complete square', () => {
    const text = fixtureText('gomez-maize-latin-square').replace('"B",1.64', '"B",NA');
    const report = reportOfText(text, asked);
    expect(report.problems.map(({ code }) => code)).toContain('notALatinSquare');
    const [lost] = report.responses;
    expect(lost!.anova.find(({ source }) => source === 'error')!.df).toBe(5);
    expect(lost!.answers.every(({ difference }) => difference !== null)).toBe(true);
  });
});

describe('two factors', () => {
  it('without blocks are those of warp breaks: SS of Tippett’s data, F with the interaction as R has it', () => {
    const { computed } = fixtureExpected<{ computed: Anova }>('warp-breaks');
    const asked = { responses: ['breaks'], design: { factors: ['wool', 'tension'] } };
    const response = onlyResponse(reportOfFixture('warp-breaks', asked));
    expect(response.anova.map(({ source, df }) => [source, df])).toEqual([
      ['factorA', 1],
      ['factorB', 2],
      ['factorA:factorB', 2],
      ['error', 48],
      ['total', 53],
    ]);
    expectRelative(sourceRow(response, 'factorA').ss, computed.anova.wool!.ss, R);
    expectRelative(sourceRow(response, 'factorB').ss, computed.anova.tension!.ss, R);
    // summary(aov(breaks ~ wool * tension)) in R, from memory: F 3.765, 8.498, 4.189.
    const f = ['factorA', 'factorB', 'factorA:factorB'].map((own) => sourceRow(response, own).f!.toFixed(3));
    expect(f).toEqual(['3.765', '8.498', '4.189']);
    expect(response.means).toHaveLength(6);
    expect(response.factors.map(({ label, means }) => [label, means.length])).toEqual([
      ['wool', 2],
      ['tension', 3],
    ]);
    const [, tension] = response.factors;
    const difference = tension!.comparisons.find(
      ({ procedure, a, b }) => procedure === 'tukey' && a === 'H' && b === 'L',
    );
    expectRelative(difference!.difference, -14.72222222222222, R);
  });

  it('in blocks are N and K of npk (Venables & Ripley 2002): block, both factors, their interaction', () => {
    const { computed } = fixtureExpected<{ computed: Anova }>('npk-factorial');
    const asked = { block: 'block', responses: ['yield'], design: { factors: ['N', 'K'] } };
    const response = onlyResponse(reportOfFixture('npk-factorial', asked));
    expect(response.anova.map(({ label }) => label)).toEqual(['block', 'N', 'K', 'N x K', 'Error', 'Total']);
    expectRelative(sourceRow(response, 'factorA').ss, computed.anova.N!.ss, R);
    expectRelative(sourceRow(response, 'factorB').ss, computed.anova.K!.ss, R);
    expectRelative(sourceRow(response, 'factorA:factorB').ss, computed.anova['N:K']!.ss, R);
  });

  it('name a combination that was never tried', () => {
    const text = fixtureText('warp-breaks')
      .split('\n')
      .filter((line) => !line.includes('"A","H"'))
      .join('\n');
    const asked = { responses: ['breaks'], design: { factors: ['wool', 'tension'] } };
    const [response] = reportOfText(text, asked).responses;
    expect(response!.refusal).toMatchObject({ code: 'emptyCell' });
    expect(response!.refusal!.message).toMatch(/Missing: A with H\.$/);
  });
});

describe('impurity by temperature and pressure (Montgomery): one plot a cell', () => {
  it('is analysed in blocks, and adds up as Tukey’s one degree of freedom says', () => {
    const { computed } = fixtureExpected<{ computed: Anova & { nonadditivity: { F: number; p: number } } }>(
      'montgomery-impurity',
    );
    const response = onlyResponse(
      reportOfFixture('montgomery-impurity', { treatment: 'temp', block: 'pressure', responses: ['y'] }),
    );
    expectRelative(sourceRow(response, 'treatment').ss, computed.anova.temp!.ss, R);
    expectRelative(sourceRow(response, 'treatment').p, computed.anova.temp!.p!, R);
    const additivity = response.checks.find(({ id }) => id === 'additivity')!;
    expectRelative(additivity.statistic, computed.nonadditivity.F, R);
    expectRelative(additivity.p, computed.nonadditivity.p, R);
  });
});

describe.each([
  {
    name: 'yates-oats-split-plot',
    asked: { block: 'B', responses: ['Y'], splitPlot: true, design: { factors: ['V', 'N'] } },
    keys: ['B|Residuals', 'B:V|V', 'B:V|Residuals', 'Within|N', 'Within|N:V', 'Within|Residuals'],
  },
  {
    name: 'gomez-rice-split-plot',
    asked: { block: 'rep', responses: ['yield'], splitPlot: true, design: { factors: ['nitro', 'variety'] } },
    keys: [
      'rep|Residuals',
      'rep:nitro|nitro',
      'rep:nitro|Residuals',
      'Within|variety',
      'Within|nitro:variety',
      'Within|Residuals',
    ],
  },
])('a split plot: $name', ({ name, asked, keys }) => {
  const { computed } = fixtureExpected<{ computed: Anova & { seds: Record<string, number> } }>(name);
  const response = onlyResponse(reportOfFixture(name, asked));

  it('has both errors and the F of each factor against its own', () => {
    const sources = ['block', 'factorA', 'mainError', 'factorB', 'factorA:factorB', 'error'];
    expect(response.anova.map(({ source }) => source)).toEqual([...sources, 'total']);
    sources.forEach((source, i) => {
      const want = computed.anova[keys[i]!]!;
      expect(sourceRow(response, source).df).toBe(want.df);
      expectRelative(sourceRow(response, source).ss, want.ss, R);
      if (want.F !== null) expectRelative(sourceRow(response, source).f, want.F, R);
      if (want.p !== null) expectRelative(sourceRow(response, source).p, want.p, 1e-8);
    });
  });

  it('without one block says what a table without its rows says', () => {
    const [left] = response.leaveOneBlockOut;
    const lines = fixtureText(name).trim().split('\n');
    const at = lines[0]!.split(',').findIndex((heading) => heading.replaceAll('"', '') === asked.block);
    const kept = lines.filter(
      (line, i) => i === 0 || line.split(',')[at]!.replaceAll('"', '') !== left!.block,
    );
    expect(kept.length).toBeLessThan(lines.length);
    const without = onlyResponse(reportOfText(kept.join('\n'), asked));
    expect(left!.comparisons.map(({ difference }) => difference)).toEqual(
      without.answers.map(({ difference }) => difference),
    );
    // The origin is another, so the last bit may differ.
    without.answers.forEach(({ estimate }, i) => {
      expect(left!.comparisons[i]!.estimate).toBeCloseTo(estimate, 12);
    });
    expect(response.leaveOneBlockOut.some(({ changes }) => changes)).toBe(
      response.answers.some(({ weakens }) => weakens.some((line) => line.startsWith('One block makes'))),
    );
  });

  it('has the four standard errors of difference', () => {
    const kinds = Object.fromEntries(response.differenceKinds.map((own) => [own.kind, own]));
    const { seds } = computed;
    expectRelative(kinds.factorA!.standardError, seds.sed_main!, R);
    expectRelative(kinds.factorB!.standardError, seds.sed_sub!, R);
    expectRelative(kinds.factorBWithinA!.standardError, seds.sed_sub_within_main!, R);
    expectRelative(kinds.factorAAtB!.standardError, seds.sed_main_at_same_or_diff_sub!, R);
    expectRelative(kinds.factorAAtB!.df, seds.satterthwaite_df!, R);
    expectRelative(kinds.factorAAtB!.lsd, seds.lsd_main_diff!, R);
    expectRelative(response.factors[1]!.lsd.value, seds.lsd_sub!, R);
  });

  it('guards main and sub comparisons together, each with its own error', () => {
    expect(response.decidedBy).toMatchObject({ procedure: 'bonferroni', chanceOfOneFalseReal: 0.05 });
    const levels = response.factors.map(({ means }) => means.length);
    const pairs = levels.map((count) => (count * (count - 1)) / 2);
    expect(response.answers).toHaveLength(pairs[0]! + pairs[1]!);
    const interaction = sourceRow(response, 'factorA:factorB').p!;
    for (const { weakens } of response.answers)
      expect(/read the combinations/.test(weakens.join(' '))).toBe(interaction < 0.05);
  });
});

describe('a split plot that cannot be carried', () => {
  const asked = { block: 'B', responses: ['Y'], splitPlot: true, design: { factors: ['V', 'N'] } };
  const text = fixtureText('yates-oats-split-plot');

  it('is refused where it is incomplete, with the combination and the block', () => {
    const [response] = reportOfText(text.replace('"0.2cwt",130', '"0.2cwt",NA'), asked).responses;
    expect(response!.refusal).toMatchObject({ code: 'splitPlotIncomplete' });
    expect(response!.refusal!.message).toMatch(/Victory with 0\.2cwt stands on 0 plots of block I/);
    expect(response!.anova).toEqual([]);
  });

  it('is refused without blocks, with a covariate, and by procedures that need one error', () => {
    const refusals = [
      { ...asked, block: null },
      { ...asked, compare: 'tukey' as const },
      { ...asked, check: '0.0cwt', compare: 'dunnett' as const },
    ].map((own) => reportOfText(text, own).responses[0]!.refusal!.code);
    expect(refusals).toEqual([
      'splitPlotNeedsBlocks',
      'procedureNotForSplitPlot',
      'procedureNotForSplitPlot',
    ]);
  });

  it('compares with a check that is a level of one factor', () => {
    const response = onlyResponse(reportOfText(text, { ...asked, check: '0.0cwt' }));
    expect(response.answers.map(({ a, b }) => [a, b])).toEqual([
      ['0.2cwt', '0.0cwt'],
      ['0.4cwt', '0.0cwt'],
      ['0.6cwt', '0.0cwt'],
    ]);
  });
});

describe('a covariate and a trend', () => {
  // Laws on published values: what the covariate carries cannot move the treatments, and adjusting takes one df an effect.
  const lines = fixtureText('gomez-seeding-rate').trim().split('\n');
  const table = (covariate: (i: number) => number, added: (i: number) => number) =>
    [
      `${lines[0]},x`,
      ...lines.slice(1).map((line, i) => {
        const cells = line.split(',');
        return [cells[0], cells[1], Number(cells[2]) + added(i), covariate(i)].join(',');
      }),
    ].join('\n');
  const x = (i: number) => ((i * 37) % 11) + i / 7;
  const asked = { treatment: 'rate', block: 'rep', responses: ['yield'] };

  it('the covariate’s own part in the yield changes no treatment F and no adjusted difference', () => {
    const design = { covariate: 'x' };
    const plain = onlyResponse(
      reportOfText(
        table(x, () => 0),
        { ...asked, design },
      ),
    );
    const moved = onlyResponse(
      reportOfText(
        table(x, (i) => 40 * x(i)),
        { ...asked, design },
      ),
    );
    expect(plain.anova.map(({ source }) => source)).toEqual([
      'block',
      'covariate',
      'treatment',
      'error',
      'total',
    ]);
    expect(sourceRow(plain, 'error').df).toBe(14);
    expectRelative(sourceRow(moved, 'treatment').f, sourceRow(plain, 'treatment').f!, 1e-8);
    plain.answers.forEach((own, i) => {
      expectRelative(moved.answers[i]!.estimate, own.estimate, 1e-6);
    });
    expect(plain.decidedBy!.procedure).toBe('tukey');
  });

  it('a bent trend takes two df on one line, and carries what bends with it', () => {
    const place = (i: number) => ((i * 7) % 24) + 1;
    const bend = (i: number) => 30 * place(i) - 2 * place(i) ** 2;
    const question = { ...asked, trendShape: 'quadratic' as const, design: { trend: 'x' } };
    const plain = onlyResponse(
      reportOfText(
        table(place, () => 0),
        question,
      ),
    );
    const bent = onlyResponse(reportOfText(table(place, bend), question));
    expect(plain.anova.map(({ source, df }) => [source, df])).toEqual([
      ['block', 3],
      ['trend', 2],
      ['treatment', 5],
      ['error', 13],
      ['total', 23],
    ]);
    expectRelative(sourceRow(bent, 'treatment').f, sourceRow(plain, 'treatment').f!, 1e-8);
    expectRelative(sourceRow(bent, 'error').ss, sourceRow(plain, 'error').ss!, 1e-8);
    expect(plain.checks.find(({ id }) => id === 'trendAcrossField')!.meaning).toMatch(
      /already part of the model/,
    );
  });

  it('is refused where it is constant within treatments, and a plot without it is left out and named', () => {
    const rates = lines.slice(1).map((line) => Number(line.split(',')[1]!.replaceAll('"', '')));
    const constant = reportOfText(
      table(
        (i) => rates[i]!,
        () => 0,
      ),
      { ...asked, design: { covariate: 'x' } },
    );
    expect(constant.responses[0]!.refusal).toMatchObject({ code: 'confoundedTerms' });
    expect(constant.responses[0]!.refusal!.message).toMatch(/covariate/);
    const text = table(x, () => 0).replace(/,[^,]*$/, ',');
    const report = reportOfText(text, { ...asked, design: { covariate: 'x' } });
    expect(report.problems.find(({ code }) => code === 'plotLacksCovariate')!.message).toMatch(
      /row 25 has no value of x/,
    );
    expect(sourceRow(onlyResponse(report), 'total').df).toBe(22);
  });
});

describe('another scale', () => {
  const asked = {
    treatment: 'trt',
    block: 'block',
    responses: ['failures'],
    check: 'Check',
    better: 'lower' as const,
  };

  it('logarithms give geometric means and ratios, which a factor on all values leaves alone (law)', () => {
    const rice = { treatment: 'rate', block: 'rep', responses: ['yield'], scale: 'log' as const };
    const text = fixtureText('gomez-seeding-rate');
    const response = onlyResponse(reportOfText(text, rice));
    const own = response.transformation!;
    expect(own).toMatchObject({ kind: 'log', offset: 0, unit: null });
    const values = text
      .trim()
      .split('\n')
      .slice(1)
      .map((line) => line.split(','));
    const of25 = values.filter((cells) => cells[1] === '"25"').map((cells) => Number(cells[2]));
    const geometric = of25.reduce((product, value) => product * value, 1) ** (1 / of25.length);
    expectRelative(own.means[0]!.mean, geometric, 1e-12);
    const [ratio] = own.ratios;
    const of50 = own.means.find(({ treatment }) => treatment === '50')!.mean;
    expectRelative(ratio!.ratio, of50 / geometric, 1e-12);
    const tenfold = text.replace(/,(\d+)(?=\n|$)/g, ',$10');
    const scaled = onlyResponse(reportOfText(tenfold, rice));
    scaled.transformation!.ratios.forEach((row, i) => {
      expectRelative(row.lower, own.ratios[i]!.lower!, 1e-9);
    });
    expect(response.answers[0]!.reasons.join(' ')).toMatch(/As a ratio: 50 over 25 is 0\.98/);
  });

  it('square roots of small counts add one half (Bartlett 1936) and bring means back, money and margin refused', () => {
    const report = reportOfFixture('snedecor-soybean', { ...asked, scale: 'squareRoot', margin: 2 });
    const response = onlyResponse(report);
    expect(response.transformation).toMatchObject({ kind: 'squareRoot', offset: 0.5, ratios: [] });
    response.transformation!.means.forEach(({ mean, lower, upper }, i) => {
      expectRelative(mean, response.means[i]!.adjustedMean ** 2 - 0.5, 1e-12);
      expect(lower!).toBeLessThan(mean);
      expect(upper!).toBeGreaterThan(mean);
    });
    expect(report.problems.map(({ code }) => code)).toContain('marginNotOnScale');
    expect(response.answers[0]!.moneySentence).toMatch(/no amount of it/);
    expect(response.answers[0]!.equivalence.margin).toBeNull();
  });

  it('angles are refused for what is no percentage, logarithms for zero', () => {
    const refused = (text: string, scale: 'angular' | 'log') =>
      reportOfText(text, { ...asked, scale }).responses[0]!.refusal;
    const text = fixtureText('snedecor-soybean');
    expect(refused(text.replace(',8', ',180'), 'angular')).toMatchObject({ code: 'outsideTransformation' });
    expect(refused(text.replace(',8', ',0'), 'log')!.message).toMatch(/The value 0 cannot be put/);
  });
});

describe('planned questions', () => {
  const asked = { treatment: 'rate', block: 'rep', responses: ['yield'] };
  const weights = (own: Record<string, number>) =>
    Object.entries(own).map(([treatment, weight]) => ({ treatment, weight }));

  it('a contrast of two is their LSD row, and orthogonal contrasts add up to the treatments (law)', () => {
    const pair = weights({ 50: 1, 25: -1 });
    const helmert = ['25', '50', '75', '100', '125', '150'].slice(1).map((name, i, later) =>
      weights({
        ...Object.fromEntries(['25', ...later.slice(0, i)].map((before) => [before, -1 / (i + 1)])),
        [name]: 1,
      }),
    );
    const contrasts = [pair, ...helmert];
    const response = onlyResponse(reportOfFixture('gomez-seeding-rate', { ...asked, contrasts }));
    const lsd = response.comparisons.find(
      ({ procedure, a, b }) => procedure === 'lsd' && a === '50' && b === '25',
    )!;
    const [first, ...rest] = response.contrasts;
    expectRelative(first!.estimate, lsd.difference, R);
    expectRelative(first!.p, lsd.p!, R);
    expectRelative(first!.upper, lsd.upper!, R);
    expectRelative(
      rest.reduce((sum, { ss }) => sum + ss, 0),
      sourceRow(response, 'treatment').ss!,
      R,
    );
  });

  it('a contrast that does not sum to zero, or names no treatment, is refused', () => {
    const codes = (own: Record<string, number>) =>
      reportOfFixture('gomez-seeding-rate', { ...asked, contrasts: [weights(own)] }).problems.map(
        ({ code }) => code,
      );
    expect(codes({ 50: 1, 25: -0.5 })).toEqual(['contrastNotZero']);
    expect(codes({ 50: 1, 26: -1 })).toEqual(['treatmentNotFound']);
  });

  it('the response to a rate: line, parabola and the rest add up to the treatments (law)', () => {
    const response = onlyResponse(reportOfFixture('gomez-seeding-rate', { ...asked, rates: true }));
    const rates = response.rates!;
    expect(rates.lines.map(({ source, df }) => [source, df])).toEqual([
      ['linear', 1],
      ['quadratic', 1],
      ['lackOfFit', 3],
    ]);
    expectRelative(
      rates.lines.reduce((sum, { ss }) => sum + ss, 0),
      sourceRow(response, 'treatment').ss!,
      R,
    );
    expect([rates.lowestRate, rates.highestRate]).toEqual([25, 150]);
    expect(rates.best!.refusal).toMatchObject({ code: 'bendNotDistinguishable' });
    expect(onlyResponse(reportOfFixture('gomez-seeding-rate', asked)).rates).toBeNull();
  });

  it('is refused where treatments are no rates', () => {
    const response = onlyResponse(
      reportOfFixture('gomez-maize-latin-square', {
        treatment: 'hybrid',
        responses: ['yield'],
        rates: true,
        design: { row: 'row', column: 'col' },
      }),
    );
    expect(response.rates!.refusal).toMatchObject({ code: 'tooFewRates' });
  });
});

describe('bad input of designs is refused by name, never with a NaN', () => {
  const table = 'p,r,b,c,y\nA,50,1,1,5\nA,100,1,2,6\nB,50,2,3,5.5\nB,100,2,4,7\n';

  it('a factor level with a blank name', () => {
    const report = reportOfText(table.replace('\nB,50', '\n,50'), {
      responses: ['y'],
      design: { factors: ['p', 'r'] },
    });
    expect(report.problems[0]).toMatchObject({ code: 'blankLevel', row: 4, column: 'p' });
  });

  it('one plot a combination leaves no error: numbers only, and whole reports keep their contract', () => {
    const report = reportOfText(table, { responses: ['y'], design: { factors: ['p', 'r'] } });
    expect(v.is(reportModelSchema, report)).toBe(true);
    const [response] = report.responses;
    expect(response!.answers.every(({ difference }) => difference === null)).toBe(true);
  });

  it('text in the covariate, an infinite value, a column named twice, one that is not there', () => {
    const codes = (text: string, design: Parameters<typeof reportOfText>[1]['design']) =>
      reportOfText(text, { treatment: 'p', responses: ['y'], ...(design ? { design } : {}) }).problems.map(
        ({ code }) => code,
      );
    expect(codes(table.replace('A,50,1,1', 'A,50,1,dry'), { covariate: 'c' })).toContain('notANumber');
    expect(codes(table.replace(',5.5', ',Infinity'), {})).toContain('notANumber');
    expect(codes(table, { covariate: 'y' })).toContain('columnUsedTwice');
    expect(codes(table, { covariate: 'z' })).toContain('noSuchColumn');
  });
});
