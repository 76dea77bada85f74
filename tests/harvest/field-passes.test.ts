import { describe, expect, it } from 'vitest';
import {
  type DrivenTrack,
  type FieldPasses,
  fieldPasses,
  numberingOf,
} from '../../src/harvest/field-passes.ts';
import { loggingInterval } from '../../src/harvest/logging-interval.ts';
import { isSameNumbering } from '../../src/trial/pass-numbering.ts';
import { type Drive, serpentineTrack, type TrackPoint } from './serpentine.ts';

const DRIVE: Drive = { lengthM: 300, headlandM: 15, stepM: 2 };

type Turned = (eastM: number, northM: number) => readonly [number, number];

function rotated(degrees: number): Turned {
  const [cosine, sine] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return (east, north) => [cosine * east + sine * north, cosine * north - sine * east];
}

function track(points: readonly TrackPoint[], file = 'a.csv', turn: Turned = (e, n) => [e, n]): DrivenTrack {
  const places = points.map(({ eastM, northM }) => turn(eastM, northM));
  const eastM = Float64Array.from(places, ([east]) => east);
  const northM = Float64Array.from(places, ([, north]) => north);
  const { run } = loggingInterval(
    Float64Array.from(points, ({ timeS }) => timeS),
    eastM,
    northM,
  );
  return { file, eastM, northM, run, cutting: Uint8Array.from(points, ({ headerDown }) => headerDown) };
}

function numbered(tracks: readonly DrivenTrack[]): FieldPasses {
  const found = fieldPasses(tracks);
  if (found === null) throw new Error('expected passes, got none');
  return found;
}

/** For each pass in field order, which pass driven its points were logged in. */
function drivenOrder({ passes }: FieldPasses, points: readonly TrackPoint[]): readonly number[] {
  return passes.map(({ spans }) => {
    const logged = new Set(spans.flatMap(({ first, end }) => points.slice(first, end).map((p) => p.driven)));
    expect(logged.size).toBe(1);
    return [...logged][0]!;
  });
}

describe('passes in field order', () => {
  it('are numbered across the field from the west, whatever the order driven', () => {
    const easts = [4.5, 40.5, 13.5, 49.5, 22.5, 58.5, 31.5];
    const points = serpentineTrack(easts, DRIVE);
    const found = numbered([track(points)]);
    const byEast = easts.map((_, i) => i).sort((a, b) => easts[a]! - easts[b]!);
    expect(drivenOrder(found, points)).toEqual(byEast);
    expect(found.from).toBe('west');
    found.passes.forEach(({ acrossM, lengthM, points: count, direction }, k) => {
      expect(acrossM).toBeCloseTo(easts[byEast[k]!]!, 9);
      expect(lengthM).toBeCloseTo(298, 9);
      expect(count).toBe(150);
      expect(direction).toBe(byEast[k]! % 2 === 0 ? 'along' : 'against');
    });
    expect(numberingOf([track(points)], found)).toEqual({
      files: ['a.csv'],
      count: 7,
      from: 'west',
      acrossM: 54,
    });
  });

  // Law: a turned field is the same field, its numbers at most run from the other edge.
  it('keep their order when the field is turned, from the west or from the south', () => {
    const points = serpentineTrack([0, 9, 18, 27, 36], DRIVE);
    const expected: [number, 'west' | 'south', boolean][] = [
      [1, 'west', false],
      [-40, 'west', false],
      [44, 'west', false],
      [-50, 'south', false],
      [-90, 'south', false],
      [-130, 'south', false],
      [50, 'south', true],
      [90.1, 'south', true],
      [140, 'west', true],
      [180, 'west', true],
    ];
    for (const [degrees, from, isReversed] of expected) {
      const found = numbered([track(points, 'a.csv', rotated(degrees))]);
      expect([degrees, found.from]).toEqual([degrees, from]);
      const order = drivenOrder(found, points);
      expect([degrees, ...order]).toEqual([degrees, ...(isReversed ? [4, 3, 2, 1, 0] : [0, 1, 2, 3, 4])]);
      const gaps = found.passes.slice(1).map(({ acrossM }, k) => acrossM - found.passes[k]!.acrossM);
      for (const gap of gaps) expect(Math.abs(gap - 9)).toBeLessThan(1e-9);
    }
  });

  it('do not hang on the order of the files', () => {
    const one = track(serpentineTrack([0, 18, 36], DRIVE), 'one.csv');
    const two = track(serpentineTrack([9, 27], DRIVE), 'two.csv');
    const found = numbered([one, two]);
    expect(found.passes.map(({ file }) => file)).toEqual([
      'one.csv',
      'two.csv',
      'one.csv',
      'two.csv',
      'one.csv',
    ]);
    const turned = numbered([two, one]);
    const strip = ({ fileIndex, ...pass }: FieldPasses['passes'][number]) => pass;
    expect(turned.passes.map(strip)).toEqual(found.passes.map(strip));
    expect(numberingOf([two, one], turned)).toEqual(numberingOf([one, two], found));
  });

  it('go on behind a stop, and behind positions that are missing', () => {
    const points = serpentineTrack([0, 9], DRIVE).map((point, i) =>
      i > 80 ? { ...point, timeS: point.timeS + 900 } : point,
    );
    const whole = track(points);
    whole.eastM[250] = Number.NaN;
    const { passes } = numbered([whole]);
    expect(passes.map(({ spans }) => spans.length)).toEqual([2, 2]);
    expect(passes.map(({ lengthM }) => Math.round(lengthM))).toEqual([296, 294]);
  });

  it('leave out headlands driven across and the rest of a corner, and count them', () => {
    const field = serpentineTrack([0, 9, 18, 27], DRIVE);
    const start = field.at(-1)!.timeS + 600;
    const headland = Array.from({ length: 20 }, (_, i): TrackPoint => {
      return { eastM: 2 * i, northM: -8, timeS: start + i, headerDown: 1, driven: 4 };
    });
    const corner = Array.from({ length: 20 }, (_, i): TrackPoint => {
      return { eastM: 45, northM: 2 * i, timeS: start + 600 + i, headerDown: 1, driven: 5 };
    });
    const points = [...field, ...headland, ...corner];
    const found = numbered([track(points)]);
    expect(drivenOrder(found, points)).toEqual([0, 1, 2, 3]);
    expect(found.leftOut).toEqual({ across: 1, short: 1 });
  });

  it('number two tiers of strips in one line one behind the other', () => {
    const lower = serpentineTrack([0, 9.3, 18.1], DRIVE);
    const upper = serpentineTrack([18.4, 8.9, 0.2], DRIVE).map((point) => ({
      ...point,
      northM: point.northM + 360,
      timeS: point.timeS + 4000,
      driven: point.driven < 0 ? -1 : point.driven + 3,
    }));
    const points = [...lower, ...upper];
    expect(drivenOrder(numbered([track(points)]), points)).toEqual([0, 5, 1, 4, 2, 3]);
  });

  it('are none where the header never went down, nor where nothing moved', () => {
    const points = serpentineTrack([0, 9], DRIVE);
    expect(fieldPasses([track(points.map((point) => ({ ...point, headerDown: 0 })))])).toBeNull();
    expect(fieldPasses([track(points.map((point) => ({ ...point, eastM: 0, northM: 0 })))])).toBeNull();
  });
});

describe('the numbering that a document keeps', () => {
  it('is another one when a file, the count, the edge or the way across changes', () => {
    const kept = { files: ['b', 'a'], count: 8, from: 'west', acrossM: 63 } as const;
    const of = (changes: object) => ({ ...kept, files: [...kept.files], ...changes });
    expect(isSameNumbering(of({}), of({ files: ['a', 'b'], acrossM: 64 }))).toBe(true);
    for (const changes of [{ files: ['a'] }, { count: 9 }, { from: 'south' }, { acrossM: 72 }])
      expect(isSameNumbering(of({}), of(changes))).toBe(false);
    expect(isSameNumbering(null, of({}))).toBe(false);
  });
});
