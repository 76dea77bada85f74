import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cleaningPicture } from '../../src/figures/cleaning-picture.ts';
import { detectableCurve } from '../../src/figures/detectable-curve.ts';
import { differencesAgainstBreakEven } from '../../src/figures/differences-against-break-even.ts';
import { fieldMap } from '../../src/figures/field-map.ts';
import { lagCurve } from '../../src/figures/lag-curve.ts';
import { stripsInFieldOrder } from '../../src/figures/strips-in-field-order.ts';
import { escapeMarkup } from '../../src/figures/svg-markup.ts';
import { MARK_COLOURS, treatmentMarks, treatmentsOf } from '../../src/figures/treatment-marks.ts';
import { roundStep, valueScale } from '../../src/figures/value-scale.ts';
import { sampleReport } from '../export/sample-report.ts';
import { fieldOf, SAMPLE_CLEANINGS, SAMPLE_LAGS, SAMPLE_PLANS } from './sample-figures.ts';
import { allElements, elementsOfClass, readXml, type XmlElement } from './xml-reader.ts';

describe('the curve of the detectable difference', () => {
  test.each(Object.entries(SAMPLE_PLANS))(
    'law, %s: more blocks find less, so marks go down; filled exactly where the plan finds what is worth having',
    (_, answer) => {
      const root = readXml(detectableCurve(answer, { widthPx: 700 }));
      const dots = elementsOfClass(root, 'at-blocks').map((group) => {
        const circle = allElements(group).find(({ name }) => name === 'circle');
        return { y: Number(circle?.attributes.cy), isFilled: circle?.attributes.fill !== '#ffffff' };
      });
      expect(dots.length).toBe(11);
      const heights = dots.map(({ y }) => y);
      expect(heights).toEqual(heights.toSorted((a, b) => a - b));
      const worth = Number(elementsOfClass(root, 'worth-having')[0]?.attributes.y1);
      expect(dots.map(({ isFilled }) => isFilled)).toEqual(dots.map(({ y }) => y >= worth));
      expect(elementsOfClass(root, 'plan').length).toBe(1);
    },
  );
});

describe('the curve of the lag', () => {
  const options = { widthPx: 600, title: 'Flow', shiftS: 2 };

  test('law: the ring stands at the lag and the wash over its interval, on one straight scale of seconds', () => {
    const root = readXml(lagCurve(SAMPLE_LAGS.clear!, options));
    const x = (name: string, key: string) => Number(elementsOfClass(root, name)[0]?.attributes[key]);
    const perSecond = x('interval', 'width') / (5.25 - 3.25);
    expect(x('best', 'cx') - x('interval', 'x')).toBeCloseTo((4.3 - 3.25) * perSecond, 1);
    expect(x('best', 'cx') - x('set-shift', 'x1')).toBeCloseTo((4.3 - 2) * perSecond, 1);
  });

  test('where it cannot be told, no shift is marked as the best', () => {
    const root = readXml(lagCurve(SAMPLE_LAGS.unclear!, options));
    expect(elementsOfClass(root, 'lag-curve').length).toBe(1);
    expect([...elementsOfClass(root, 'best'), ...elementsOfClass(root, 'interval')]).toEqual([]);
  });
});

describe('the picture of the cleanings', () => {
  test('law: one mark a cleaning, of the kind that says which verdict moved, in the order of the estimates', () => {
    const root = readXml(cleaningPicture(SAMPLE_CLEANINGS, 't/ha', { widthPx: 800 }));
    // The key shows one of each as well.
    const rows = elementsOfClass(root, 'cleaned');
    const marks = ['holds', 'difference-flips', 'money-flips'].map(
      (name) => rows.flatMap((row) => elementsOfClass(row, name)).length,
    );
    const under = SAMPLE_CLEANINGS.flatMap((one) => one.under);
    const flips = under.filter(({ differenceHolds }) => !differenceHolds).length;
    const money = under.filter(({ differenceHolds, moneyHolds }) => differenceHolds && !moneyHolds).length;
    expect(marks).toEqual([under.length - flips - money, flips, money]);
    const lines = elementsOfClass(root, 'own').map(({ attributes }) => Number(attributes.x1));
    expect(lines[0]).toBeGreaterThan(lines[1]!);
  });
});

describe('strips in field order', () => {
  const report = sampleReport();
  const root = readXml(stripsInFieldOrder(report, 'yield', { widthPx: 900 }));

  test('law: one group a strip, in the order of places', () => {
    const drawn = elementsOfClass(root, 'strip').map(({ attributes }) => attributes['data-strip']);
    const inOrder = report.strips.toSorted((a, b) => (a.place ?? 0) - (b.place ?? 0));
    expect(drawn).toEqual(inOrder.map(({ strip }) => strip));
  });

  test('law: a strip without a value has no mark; one not used is hollow and crossed', () => {
    for (const strip of report.strips) {
      const group = elementsOfClass(root, 'strip').find(
        ({ attributes }) => attributes['data-strip'] === strip.strip,
      );
      const shapes = allElements(group as XmlElement).filter(
        ({ name }) => name === 'path' || name === 'circle',
      );
      const value = strip.values[0]?.value ?? null;
      expect(shapes.length, strip.strip).toBe(value === null ? 0 : strip.used ? 1 : 2);
      if (value !== null) expect(shapes[0]?.attributes.fill === '#ffffff').toBe(!strip.used);
    }
  });

  test('law: a higher value stands higher, and every mark stands in its own lane', () => {
    // Two treatments, so that all marks of the first are discs, whose centre can be read.
    const two = sampleReport({ treatments: ['Check', 'Seed dressing'], blocks: 8 });
    const figure = readXml(stripsInFieldOrder(two, 'yield', { widthPx: 900 }));
    const discs = elementsOfClass(figure, 'strip').flatMap((group) => {
      const circle = allElements(group).find(({ name }) => name === 'circle');
      const strip = two.strips.find((own) => own.strip === group.attributes['data-strip']);
      const value = strip?.values[0]?.value;
      if (circle === undefined || value === undefined || value === null) return [];
      return [{ value, x: Number(circle.attributes.cx), y: Number(circle.attributes.cy) }];
    });
    expect(discs.length).toBe(8);
    const byValue = discs.toSorted((a, b) => a.value - b.value).map(({ y }) => y);
    expect(byValue).toEqual(byValue.toSorted((a, b) => b - a));
    const xs = discs.map(({ x }) => x);
    expect(xs).toEqual(xs.toSorted((a, b) => a - b));
  });

  test('places that are shared or unknown are said, not guessed', () => {
    const unknown = { ...report, strips: report.strips.map((strip) => ({ ...strip, place: null })) };
    expect(stripsInFieldOrder(unknown, 'yield', { widthPx: 900 })).toContain('not known');
  });

  test('too many strips give a notice instead of a blur', () => {
    const many = Array.from({ length: 18_009 }, (_, i) => ({
      ...report.strips[0]!,
      strip: String(i),
      place: i,
    }));
    const svg = stripsInFieldOrder({ ...report, strips: many }, 'yield', { widthPx: 900 });
    expect(svg.length).toBeLessThan(3000);
    expect(svg).toContain('18009 strips');
  });
});

describe('differences against break-even', () => {
  const report = sampleReport();
  const response = report.responses[0]!;
  const root = readXml(differencesAgainstBreakEven(report, 'yield', { widthPx: 900 }));

  test('law: one row an answer, one post for each known break-even, one zero line a row', () => {
    expect(elementsOfClass(root, 'comparison').length).toBe(response.answers.length);
    const rows = elementsOfClass(root, 'comparison');
    const posts = rows.map((row) => elementsOfClass(row, 'break-even').length);
    expect(posts).toEqual(response.economics.map(({ breakEven }) => (breakEven === null ? 0 : 1)));
    expect(elementsOfClass(root, 'zero').length).toBe(response.answers.length);
  });

  test('law: positions are one straight line of values: zero, estimates and posts', () => {
    const zero = Number(elementsOfClass(root, 'zero')[0]?.attributes.x1);
    const rows = elementsOfClass(root, 'comparison');
    const perUnit = rows.map((row, index) => {
      const x = Number(elementsOfClass(row, 'estimate')[0]?.attributes.cx);
      return (x - zero) / response.answers[index]!.estimate;
    });
    for (const slope of perUnit) expect(Math.abs(slope - perUnit[0]!) / perUnit[0]!).toBeLessThan(1e-3);
    for (const [index, row] of rows.entries()) {
      const breakEven = response.economics[index]!.breakEven;
      if (breakEven === null) continue;
      const post = allElements(elementsOfClass(row, 'break-even')[0] as XmlElement).find(
        (e) => e.name === 'line',
      );
      expect(Number(post?.attributes.x1)).toBeCloseTo(zero + breakEven * perUnit[0]!, 0);
    }
  });

  test('without replication no interval is drawn and no verdict is written', () => {
    const single = sampleReport({ treatments: ['A', 'B'], blocks: 1, replicated: false });
    const svg = differencesAgainstBreakEven(single, 'yield', { widthPx: 900 });
    const rows = elementsOfClass(readXml(svg), 'comparison');
    expect(rows.flatMap((row) => elementsOfClass(row, 'interval'))).toEqual([]);
    expect(svg).not.toContain('Not settled');
    expect(svg).toContain('no replication');
  });

  test('a refused response says why in its place', () => {
    const refused = {
      ...response,
      answers: [],
      means: [],
      refusal: { code: 'tooFew', message: 'Only one treatment has values.', whatWouldHelp: 'A second.' },
    };
    const svg = differencesAgainstBreakEven({ ...report, responses: [refused] }, 'yield', { widthPx: 900 });
    expect(svg).toContain('Only one treatment has values.');
  });
});

describe('the field map', () => {
  test('law: one outline a strip; kept and set-aside points add up to the points given', () => {
    const report = sampleReport();
    const eastM = Array.from({ length: 300 }, (_, i) => (i % 30) * 12 + 4);
    const northM = Array.from({ length: 300 }, (_, i) => (i * 11) % 400);
    const kept = northM.map((north) => (north > 30 ? 1 : 0));
    const root = readXml(
      fieldMap(
        {
          strips: fieldOf(report),
          treatments: treatmentsOf(report),
          unitSystem: 'metric',
          points: { eastM, northM, kept },
        },
        { widthPx: 900 },
      ),
    );
    expect(elementsOfClass(root, 'strip').length).toBe(report.strips.length);
    const moves = (name: string) => {
      const paths = elementsOfClass(root, name).map(({ attributes }) => attributes.d ?? '');
      return Math.max(...paths.map((d) => d.split('M').length - 1));
    };
    const sum = kept.filter((flag) => flag === 1).length;
    expect(moves('points-kept')).toBe(sum);
    // A cross is two strokes.
    expect(moves('points-set-aside')).toBe(2 * (300 - sum));
  });

  test('law: north is up and east is right, one scale both ways', () => {
    const square = (id: string, east: number, north: number) => ({
      id,
      treatment: 'A',
      block: null,
      rings: [
        [
          [east, north],
          [east + 10, north],
          [east + 10, north + 10],
          [east, north + 10],
        ] as const,
      ],
    });
    const strips = [square('home', 0, 0), square('east', 100, 0), square('north', 0, 100)];
    const root = readXml(fieldMap({ strips, treatments: ['A'], unitSystem: 'metric' }, { widthPx: 600 }));
    const [home, east, north] = elementsOfClass(root, 'strip').map((group) => {
      const path = allElements(group).find(({ name }) => name === 'path');
      const [x = 0, y = 0] = (path?.attributes.d ?? '').slice(1).split('L')[0]!.split(' ').map(Number);
      return { x, y };
    });
    expect(east!.x - home!.x).toBeGreaterThan(0);
    expect(home!.y - north!.y).toBeGreaterThan(0);
    expect(east!.x - home!.x).toBeCloseTo(home!.y - north!.y, 1);
  });
});

describe('the value scale', () => {
  test('law: monotone, straight, and its ends take in every value', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 30 }),
        (values) => {
          const scale = valueScale(values, 0, 500, 6);
          for (const value of values) {
            expect(scale.toPx(value)).toBeGreaterThanOrEqual(0);
            expect(scale.toPx(value)).toBeLessThanOrEqual(500);
          }
          for (const tick of scale.ticks)
            expect(tick >= scale.low - 1e-6 && tick <= scale.high + 1e-6).toBe(true);
          expect(scale.ticks.length).toBeLessThanOrEqual(14);
        },
      ),
      { seed: 20_240_607, numRuns: 300 },
    );
  });

  test('steps are 1, 2 or 5 times a power of ten, never below what was asked', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-8, max: 1e8, noNaN: true }), (wanted) => {
        const step = roundStep(wanted);
        expect(step).toBeGreaterThanOrEqual(wanted * (1 - 1e-8));
        const lead = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
        expect([1, 2, 5].some((factor) => Math.abs(lead - factor) < 1e-6)).toBe(true);
      }),
      { seed: 20_240_608, numRuns: 300 },
    );
  });

  test('refuses what is no number', () => {
    expect(() => valueScale([1, Number.NaN], 0, 1, 5)).toThrow(/finite/);
    expect(() => valueScale([], 0, 1, 5)).toThrow(/at least one/);
  });
});

describe('treatment marks', () => {
  test('colours reach 4.5:1 on white (WCAG 2.2, success criterion 1.4.3, formula of relative luminance)', () => {
    for (const colour of MARK_COLOURS)
      expect(1.05 / (luminance(colour) + 0.05), colour).toBeGreaterThanOrEqual(4.5);
  });

  test('law: up to 56 treatments no two share colour and form, and no two share a code', () => {
    const marks = [...treatmentMarks(Array.from({ length: 56 }, (_, i) => `Product number ${i}`)).values()];
    expect(new Set(marks.map(({ colour, form }) => `${colour} ${form}`)).size).toBe(56);
    expect(new Set(marks.map(({ code }) => code)).size).toBe(56);
  });

  test('a short name is its own code; equal initials give numbers, so that no code hints at the wrong name', () => {
    const codes = (names: readonly string[]) => [...treatmentMarks(names).values()].map(({ code }) => code);
    expect(codes(['B', 'A'])).toEqual(['B', 'A']);
    expect(codes(['0', '50', '100'])).toEqual(['0', '50', '100']);
    expect(codes(['Untreated', 'Early', 'Late'])).toEqual(['U', 'E', 'L']);
    expect(codes(['Low rate', 'Late rate'])).toEqual(['1', '2']);
  });
});

test('escaping: what is written is what is read back, whatever the text (XML 1.0 characters)', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 40 }), (text) => {
      const clean = [...text].filter((c) => c === '\t' || c === '\n' || c === '\r' || c >= ' ').join('');
      const attribute = readXml(`<a b="${escapeMarkup(text)}"/>`).attributes.b;
      expect(attribute).toBe(clean);
    }),
    { seed: 20_240_609, numRuns: 500 },
  );
});

/** Relative luminance as WCAG 2.2 defines it. */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
