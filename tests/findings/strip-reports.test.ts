import { describe, expect, it } from 'vitest';
import { reportFromStrips } from '../../src/findings/report-from-strips.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { fixtureCells, onlyResponse, stripsInput, stripTrial, stripValue } from './report-inputs.ts';
import { reportOfText } from './table-questions.ts';

/** kg/ha; invented figures, used for laws of units and money alone. */
const YIELDS = {
  Untreated: [8000, 8300, 7900, 8200, 8100, 8400],
  Gain: [8600, 8800, 8450, 8900, 8700, 8950],
};

const HA_PER_ACRE = 0.40468564224; // exact: international acre
const LB = 0.45359237; // exact: international pound

describe('units at the edge', () => {
  const metric = onlyResponse(reportFromStrips(stripsInput(stripTrial(YIELDS))));
  const us = (crop: string | null) =>
    onlyResponse(reportFromStrips(stripsInput(stripTrial(YIELDS, { unitSystem: 'us', crop }))));

  it.each([
    ['bu/ac of maize, 56 lb', us('maize'), 'bu/ac', HA_PER_ACRE / LB / 56],
    ['bu/ac of soybean, 60 lb', us('soybean'), 'bu/ac', HA_PER_ACRE / LB / 60],
    ['lb/ac where the crop has no bushel', us(null), 'lb/ac', HA_PER_ACRE / LB],
    ['t/ha', metric, 't/ha', 0.001],
  ] as const)('%s', (_, response, unit, perKgHa) => {
    expect(response.unit).toBe(unit);
    expect(response.means[0]!.mean / (48900 / 6)).toBeCloseTo(perKgHa, 12);
    // Changing the unit changes no F, p or CV.
    expect(response.anova[0]!.f! / metric.anova[0]!.f!).toBeCloseTo(1, 10);
    expect(response.cvPercent! / metric.cvPercent!).toBeCloseTo(1, 10);
  });

  it('gives the margin in the response’s unit', () => {
    const trial = stripTrial(YIELDS);
    const withMargin = { ...trial.trial, inference: { ...trial.trial.inference, marginKgPerHa: 300 } };
    const report = reportFromStrips(stripsInput({ ...trial, trial: withMargin }));
    expect(onlyResponse(report).answers[0]!.equivalence.margin).toBeCloseTo(0.3, 12);
  });
});

describe('money', () => {
  function paying(costPerHa: number, pricePerKg: number | null, applicationCostPerHa: number | null = 0) {
    const made = stripTrial(YIELDS);
    const treatments = made.trial.treatments.map((own) =>
      own.isCheck ? own : { ...own, costPerHa, applicationCostPerHa },
    );
    const economics = { pricePerKg, currency: 'EUR' };
    return reportFromStrips(stripsInput({ ...made, trial: { ...made.trial, treatments, economics } }));
  }

  it('breaks even at extra cost over price, and nets price times difference less cost', () => {
    // 40 + 10 EUR/ha at 0.2 EUR/kg: 250 kg/ha. Means differ by 583 1/3 kg/ha: 116.67 - 50 = 66.67 EUR/ha.
    const row = onlyResponse(paying(40, 0.2, 10)).economics[0]!;
    expect(row.breakEven).toBeCloseTo(0.25, 12);
    expect(row.extraCost).toBeCloseTo(50, 12);
    expect(row.netReturn).toBeCloseTo(3500 / 6 / 5 - 50, 9);
    expect(row.moneyUnit).toBe('EUR/ha');
  });

  it('moves its verdict with price and cost alone, and the other verdict not at all', () => {
    const verdicts = [10, 115, 300].map((cost) => onlyResponse(paying(cost, 0.2)).answers[0]!);
    expect(verdicts.map(({ money }) => money)).toEqual(['Pays', 'May pay', 'Does not pay']);
    expect(verdicts.map(({ difference }) => difference)).toEqual(['Real', 'Real', 'Real']);
    for (const { money, moneySentence, differenceSentence } of verdicts) {
      expect(moneySentence.startsWith(`${money}: `)).toBe(true);
      expect(differenceSentence.startsWith('Real: ')).toBe(true);
    }
  });

  it('agrees with the sign of the net return at both ends of the interval', () => {
    for (const cost of [0, 60, 90, 120, 150, 200]) {
      const response = onlyResponse(paying(cost, 0.2));
      const { netReturnLower, netReturnUpper } = response.economics[0]!;
      const want = netReturnLower! > 0 ? 'Pays' : netReturnUpper! < 0 ? 'Does not pay' : 'May pay';
      expect(response.answers[0]!.money).toBe(want);
    }
  });

  it('says what is missing instead of taking it for nothing', () => {
    const noPrice = onlyResponse(paying(40, null));
    expect(noPrice.answers[0]).toMatchObject({ money: null });
    expect(noPrice.answers[0]!.moneySentence).toBe('Not known: the price of the crop is not given.');
    expect(noPrice.economics[0]!.breakEven).toBeNull();
    const noCost = onlyResponse(reportFromStrips(stripsInput(stripTrial(YIELDS))));
    expect(noCost.answers[0]!.moneySentence).toMatch(/the cost of Gain is not given/);
    expect(noCost.answers[0]!.wouldSettle.join(' ')).toMatch(/Price of the crop/);
  });

  it('is per acre where the trial reads in acres, and the verdict is the same', () => {
    const made = stripTrial(YIELDS, { unitSystem: 'us', crop: 'maize' });
    const treatments = made.trial.treatments.map((own) => (own.isCheck ? own : { ...own, costPerHa: 50 }));
    const trial = { ...made.trial, treatments, economics: { pricePerKg: 0.2, currency: 'USD' } };
    const response = onlyResponse(reportFromStrips(stripsInput({ ...made, trial })));
    expect(response.economics[0]!.moneyUnit).toBe('USD/ac');
    expect(response.economics[0]!.extraCost).toBeCloseTo(50 * HA_PER_ACRE, 10);
    expect(response.economics[0]!.netReturn).toBeCloseTo((3500 / 6 / 5 - 50) * HA_PER_ACRE, 9);
  });
});

describe('responses besides yield', () => {
  it('analyses moisture in percent, less is better, without money', () => {
    const made = stripTrial(YIELDS);
    const strips = made.strips.map((own, i) => stripValue(own.strip, { moisture: 15 + ((i * 7) % 5) / 3 }));
    const responses = [{ name: 'moisture', quantity: 'moisture' as const, unit: '%' }];
    const response = onlyResponse(reportFromStrips(stripsInput({ ...made, strips }, { responses })));
    expect(response).toMatchObject({ name: 'moisture', unit: '%', better: 'lower', economics: [] });
    expect(response.answers[0]!.money).toBeNull();
    expect(response.answers[0]!.moneySentence).toMatch(/^Not known: money is reckoned from yield alone/);
    expect(response.answers[0]!.differenceSentence).toMatch(/percentage points/);
    expect(response.answers[0]!.equivalence.margin).toBeNull();
  });
});

describe('what weakens an answer', () => {
  function weakens(
    changes: Parameters<typeof stripTrial>[1],
    input: Parameters<typeof stripsInput>[1] = {},
    yields: Parameters<typeof stripTrial>[0] = YIELDS,
  ): string {
    const report = reportFromStrips(stripsInput(stripTrial(yields, changes), input));
    return onlyResponse(report)
      .answers.flatMap((answer) => answer.weakens)
      .join('\n');
  }

  it('few error df', () => {
    expect(weakens({})).toMatch(/Only 5 degrees of freedom for error/);
    const seven = { Untreated: [...YIELDS.Untreated, 8000], Gain: [...YIELDS.Gain, 8555] };
    expect(weakens({}, {}, seven)).not.toMatch(/degrees of freedom/);
  });

  it('no randomisation, or nobody said', () => {
    expect(weakens({ randomised: false })).toMatch(/were not randomised/);
    expect(weakens({ randomised: null })).toMatch(
      /Nobody said whether treatments were put on strips by chance/,
    );
    expect(weakens({ randomised: true })).not.toMatch(/by chance/);
  });

  it('the same order in every block, read from the places across the field', () => {
    expect(weakens({})).toMatch(/same order in every block \(Untreated, Gain\)/);
    const made = stripTrial(YIELDS);
    const swapped = made.trial.strips.map((strip) =>
      strip.block === 'b1' ? { ...strip, place: -(strip.place ?? 0) } : strip,
    );
    expect(weakens({ strips: swapped })).not.toMatch(/same order/);
    expect(weakens({ strips: made.trial.strips.map((strip) => ({ ...strip, place: null })) })).not.toMatch(
      /same order/,
    );
  });

  it('moisture and lag that were taken for granted', () => {
    const assumptions = [
      {
        code: 'moistureBasisAssumedWet',
        details: { file: 'f.csv', heading: 'Yield', standardPercent: 15.5 },
      },
      { code: 'lagAssumedApplied', details: { file: 'f.csv', heading: 'Yield' } },
    ];
    const text = weakens({}, { assumptions });
    expect(text).toMatch(/at which moisture/);
    expect(text).toMatch(/transit lag/);
    const report = reportFromStrips(stripsInput(stripTrial(YIELDS), { assumptions }));
    expect(report.trial.assumptions[0]).toMatch(/taken as wet and brought to 15.5 %/);
  });

  it('points set aside from one treatment more than from another, by five points or more', () => {
    const { trial, strips } = stripTrial(YIELDS);
    const screened = (share: number) =>
      strips.map((own) => {
        const outlier = own.strip.startsWith('Gain') ? share : 10;
        return {
          ...own,
          pointsRead: 120,
          pointsKept: 100 - outlier,
          pointsSetAside: { outlier, endMargin: 20 },
        };
      });
    const text = (share: number) =>
      onlyResponse(
        reportFromStrips(stripsInput({ trial, strips: screened(share) })),
      ).answers[0]!.weakens.join(' ');
    expect(text(15)).toMatch(/Screening set aside 15 % of the points of Gain but 10 % of Untreated/);
    expect(text(14)).not.toMatch(/Screening/);
  });

  it('settings that changed after the data were seen, by name', () => {
    const made = stripTrial(YIELDS);
    const stamp = {
      at: '2026-09-01T10:00:00Z',
      inference: made.trial.inference,
      harvest: made.trial.harvest,
    };
    const changes = { stamp, inference: { ...made.trial.inference, alpha: 0.1 } };
    expect(weakens(changes)).toMatch(/changed after the harvest data had been seen: the significance level/);
    const report = reportFromStrips(stripsInput(stripTrial(YIELDS, changes)));
    expect(report.trial.changedAfterSeeing).toEqual([
      { path: 'inference.alpha', before: '0.05', now: '0.1' },
    ]);
  });

  it('the best of several, and that one field in one season says little', () => {
    const three = { ...YIELDS, Other: [8100, 8350, 7900, 8290, 8180, 8420] };
    expect(weakens({}, {}, three)).toMatch(/Gain has the best mean of 3 treatments/);
    expect(weakens({})).not.toMatch(/flattered/);
    const report = reportFromStrips(stripsInput(stripTrial(YIELDS)));
    expect(onlyResponse(report).answers[0]!.reasons.join(' ')).toMatch(/One field in one season/);
  });

  it('lost strips, which are told in the table of strips too', () => {
    const lost = { ...YIELDS, Gain: [null, ...YIELDS.Gain.slice(1)] };
    expect(weakens({}, {}, lost)).toMatch(/1 of 12 strips gave no value/);
    const report = reportFromStrips(stripsInput(stripTrial(lost)));
    expect(report.strips.filter(({ used }) => !used)).toMatchObject([
      { strip: 'Gain in 0', whyNotUsed: 'no value was measured' },
    ]);
    expect(report.problems.map(({ code }) => code)).toEqual(['treatmentMissingFromBlock']);
  });
});

describe('strips and blocks of the document', () => {
  it('reads the published rice trial alike from strips and from a table', () => {
    const cells = fixtureCells('gomez-seeding-rate/data.csv', 'rate', 'rep', 'yield');
    const byRate: Record<string, number[]> = {};
    for (const [rate, , value] of cells) {
      byRate[`rate ${rate}`] ??= [];
      byRate[`rate ${rate}`]!.push(value!);
    }
    const response = onlyResponse(reportFromStrips(stripsInput(stripTrial(byRate))));
    expect(response.lsd.value! * 1000).toBeCloseTo(501.13640505709, 6);
    expect(response.anova[1]!.f).toBeCloseTo(2.16777868149536, 10);
  });

  it('says so when a strip is in no block, or none is', () => {
    const made = stripTrial(YIELDS);
    const [first, ...others] = made.trial.strips;
    const one = { ...made.trial, strips: [{ ...first!, block: null }, ...others] };
    const report = reportFromStrips(stripsInput({ ...made, trial: one }));
    expect(report.problems.map(({ code }) => code)).toContain('stripWithoutBlock');
    expect(report.strips[0]).toMatchObject({ used: false, whyNotUsed: 'belongs to no block' });
    const none = { ...made.trial, strips: made.trial.strips.map((own) => ({ ...own, block: null })) };
    const unblocked = reportFromStrips(stripsInput({ ...made, trial: none }));
    expect(unblocked.problems.map(({ code }) => code)).toEqual(['noBlocksGiven']);
    expect(onlyResponse(unblocked).design).toBe('completelyRandomized');
  });

  it('tells apart treatments of one name by their id', () => {
    const made = stripTrial(YIELDS);
    const treatments = made.trial.treatments.map((own) => ({ ...own, name: 'Same name' }));
    const report = reportFromStrips(stripsInput({ ...made, trial: { ...made.trial, treatments } }));
    expect(onlyResponse(report).means.map(({ treatment }) => treatment)).toEqual([
      'Same name (Untreated)',
      'Same name (Gain)',
    ]);
  });

  it('lists every setting by a path that the document can be edited by', async () => {
    const { setAtPath } = await import('../../src/trial/set-at-path.ts');
    const { trial, strips } = stripTrial(YIELDS);
    const { settings } = reportFromStrips(stripsInput({ trial, strips })).trial;
    expect(settings['inference.alpha']).toBe('0.05');
    expect(settings['harvest.endMarginM']).toBe('20');
    for (const [path, text] of Object.entries(settings))
      expect(setAtPath(trial, path, JSON.parse(text)), path).toEqual(trial);
  });
});

describe('the model that a trial document asks for', () => {
  const inTurn = stripTrial({ A: [4000, 4400, 5200, 4700], B: [4500, 4800, 6000, 5200] });
  // A B, B A, A B, B A: so that place, block and treatment come apart.
  const places = [1, 2, 4, 3, 5, 6, 8, 7];
  const trialInPlaces = {
    ...inTurn.trial,
    strips: inTurn.trial.strips.map((strip, i) => ({ ...strip, place: places[i]! })),
  };
  const made = { trial: trialInPlaces, strips: inTurn.strips };
  const asked = (inference: Partial<TrialDocument['inference']>, changes: Partial<TrialDocument> = {}) => {
    const trial = { ...made.trial, ...changes, inference: { ...made.trial.inference, ...inference } };
    return onlyResponse(reportFromStrips(stripsInput({ trial, strips: made.strips })));
  };

  it('on logarithms breaks even at a ratio (by hand), and money reads the same in other units', () => {
    const economics = { pricePerKg: 0.2, currency: 'EUR' };
    const treatments = made.trial.treatments.map((own, i) => ({
      ...own,
      costPerHa: 30 * i,
      applicationCostPerHa: 0,
    }));
    const metric = asked({ scale: 'log' }, { economics, treatments });
    const us = asked({ scale: 'log' }, { economics, treatments, unitSystem: 'us', crop: 'wheat' });
    // B must bring 30 / 0.2 = 150 kg/ha over A, whose geometric mean is what A yields.
    const meanOfA = Math.exp([4000, 4400, 5200, 4700].reduce((sum, own) => sum + Math.log(own) / 4, 0));
    expect(metric.economics[0]!.breakEven).toBeCloseTo(Math.log(1 + 150 / meanOfA), 10);
    expect(metric.answers[0]!.money).toBe('Pays');
    expect(us.answers[0]!.money).toBe('Pays');
    expect(metric.answers[0]!.moneySentence).toMatch(/at 1\.033 times what A yields/);
    const ratio = metric.transformation!.ratios[0]!.ratio;
    expect(metric.economics[0]!.netReturn).toBeCloseTo((ratio - 1) * meanOfA * 0.2 - 30, 8);
    expect(asked({ scale: 'squareRoot' }, { economics, treatments }).answers[0]!.money).toBeNull();
  });

  it('takes a trend out as a table does, and leaves out strips without a place, saying so', () => {
    const { anova, answers } = asked({ trend: 'linear' });
    const rows = made.trial.strips.map((strip, i) =>
      [strip.treatment, strip.block, strip.place, made.strips[i]!.values.yield! / 1000].join(','),
    );
    const text = ['treatment,block,place,yield', ...rows].join('\n');
    const columns = { treatment: 'treatment', block: 'block', responses: ['yield'], check: 'A' };
    const table = onlyResponse(reportOfText(text, { ...columns, design: { trend: 'place' } }));
    expect(anova.map(({ source }) => source)).toContain('trend');
    anova.forEach(({ source, df, ss }, i) => {
      expect(table.anova[i]).toMatchObject({ source, df });
      expect(table.anova[i]!.ss).toBeCloseTo(ss!, 10);
    });
    expect(table.answers[0]!.estimate).toBeCloseTo(answers[0]!.estimate, 10);
    const strips = made.trial.strips.map((strip, i) => (i === 3 ? { ...strip, place: null } : strip));
    const trial = { ...made.trial, strips, inference: { ...made.trial.inference, trend: 'linear' as const } };
    const report = reportFromStrips(stripsInput({ trial, strips: made.strips }));
    expect(report.problems.map(({ code }) => code)).toContain('plotLacksCovariate');
    expect(onlyResponse(report).anova.find(({ source }) => source === 'total')?.df).toBe(6);
  });
});
