import { describe, expect, it } from 'vitest';
import { stripsGeojson } from '../../src/export/strips-geojson.ts';
import { localPolygon, polygonAreaM2 } from '../../src/geometry/local-polygon.ts';
import { stripsFromLine } from '../../src/geometry/strips-from-line.ts';
import { placesOfStrips } from '../../src/harvest/layout-faults.ts';
import { stripGrounds } from '../../src/harvest/strip-ground.ts';
import { readLayout } from '../../src/intake/read-layout.ts';
import { analyseTrial } from '../../src/pipeline/analyse-trial.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import { drawUpLayout, edgeLengthM, type LayoutToDraw } from '../../src/trial/draw-up-layout.ts';
import { frameOfStrips } from '../../src/trial/frame-of-strips.ts';
import { blocksOfOrder, orderText } from '../../src/trial/order-text.ts';
import type { Outcome } from '../../src/trial/problem.ts';
import type { Strip, TrialDocument } from '../../src/trial/trial-document.ts';
import { smallTrial } from './trials.ts';

function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const TRIAL = smallTrial({ strips: [], blocks: [] });
const BLOCKS = blocksOfOrder('Untreated, Leaf feed\nLeaf feed, Untreated\nLeaf feed, Untreated', TRIAL);
const ASKED: LayoutToDraw = {
  start: [20, 45],
  end: [20.001, 45.0025],
  side: 'right',
  stripWidthM: 12,
  gapM: 0,
  blocks: BLOCKS,
};

function drawn(changes: Partial<LayoutToDraw> = {}): readonly Strip[] {
  return unwrap(drawUpLayout({ ...ASKED, ...changes }, TRIAL.treatments)).strips;
}

const ringOf = ({ polygon }: Strip) => polygon!.coordinates[0] as [number, number][];

/** Does any corner of the one stand in the other, digit for digit? How many. */
function shared(one: Strip, other: Strip): number {
  const corners = (strip: Strip) => ringOf(strip).slice(0, 4).map(String);
  return corners(one).filter((corner) => corners(other).includes(corner)).length;
}

describe('strips from one edge line', () => {
  it('have width times length as area in the plane, within 1e-9, whatever the way of the line', () => {
    for (const side of ['left', 'right'] as const) {
      for (const end of [
        [3, 311.7],
        [-250, 1],
        [80.1, -63.3],
      ] as const) {
        const line = { start: [0, 0] as const, end, side, widthM: 9.144, groups: [3, 2], gapM: 4 };
        for (const corners of stripsFromLine(line)) {
          const areaM2 = polygonAreaM2(localPolygon(corners));
          expect(Math.abs(areaM2 / (9.144 * Math.hypot(...end)) - 1)).toBeLessThan(1e-9);
        }
      }
    }
  });

  it.each([
    { start: [20, 45], end: [20.001, 45.0025] },
    { start: [151.2, -33.1], end: [151.203, -33.1004] },
    { start: [-97.5, 49.99], end: [-97.5, 50.01] },
    { start: [179.999, -0.001], end: [-179.999, 0.001] },
    { start: [-0.0005, 64.1], end: [0.0005, 64.1002] },
  ] as const)(
    'in degrees keep that area where they lie, in both hemispheres and over 180 degrees: %o',
    (line) => {
      for (const side of ['left', 'right'] as const) {
        const strips = drawn({ ...line, side });
        const grounds = stripGrounds(strips, frameOfStrips(strips)!);
        expect(grounds.length).toBe(6);
        for (const { areaM2, oriented } of grounds) {
          // Their own plane lies 36 m beside that of the line: its scale there differs by 2e-11.
          expect(Math.abs(areaM2 / (12 * edgeLengthM(line)) - 1)).toBeLessThan(1e-8);
          expect(Math.abs(oriented.widthM - 12)).toBeLessThan(1e-6);
        }
        const places = placesOfStrips(strips);
        const order = strips.map(({ id }) => places.get(id)!);
        expect([order, order.toReversed()]).toContainEqual([1, 2, 3, 4, 5, 6]);
      }
    },
  );

  it('share an edge with their neighbour digit for digit, and none over a gap', () => {
    const close = drawn();
    const apart = drawn({ gapM: 3 });
    for (let k = 0; k < 5; k++) {
      expect(shared(close[k]!, close[k + 1]!)).toBe(2);
      expect(shared(apart[k]!, apart[k + 1]!)).toBe(k % 2 === 0 ? 2 : 0);
    }
    expect(ringOf(close[0]!)).toContainEqual([...ASKED.start].map((degree) => expect.closeTo(degree, 9)));
  });

  it('lie on the side that was asked for, and turn anticlockwise (RFC 7946)', () => {
    const north = { start: [20, 45], end: [20, 45.003] } as const;
    const [right, left] = (['right', 'left'] as const).map((side) => drawn({ ...north, side }));
    for (const corner of right!.flatMap(ringOf)) expect(corner[0]).toBeGreaterThan(20 - 1e-9);
    for (const corner of left!.flatMap(ringOf)) expect(corner[0]).toBeLessThan(20 + 1e-9);
    for (const ring of [...right!, ...left!].map(ringOf)) {
      const doubled = ring.slice(1).reduce((sum, [x, y], i) => {
        const [x0, y0] = ring[i]!;
        return sum + (x0 - 20) * (y - 45) - (x - 20) * (y0 - 45);
      }, 0);
      expect(doubled).toBeGreaterThan(0);
      expect(ring[0]).toEqual(ring.at(-1));
    }
  });
});

describe('the order of treatments', () => {
  it('stands from the line on, one line a block', () => {
    expect(drawn().map(({ id, treatment, block, place }) => [id, treatment, block, place])).toEqual([
      ['1', 'untreated', '1', 1],
      ['2', 'leaf', '1', 2],
      ['3', 'leaf', '2', 3],
      ['4', 'untreated', '2', 4],
      ['5', 'leaf', '3', 5],
      ['6', 'untreated', '3', 6],
    ]);
  });

  it('of the document keeps the names of strips and blocks; another order numbers them anew', () => {
    const listed = smallTrial();
    const text = orderText(listed);
    expect(text).toBe('Untreated, Leaf feed\nLeaf feed, Untreated');
    const same = blocksOfOrder(text, listed);
    expect(same.map(({ block, strips }) => [block?.name, strips.map(({ id }) => id)])).toEqual([
      ['East', ['s1', 's2']],
      ['West', ['s3', 's4']],
    ]);
    const other = blocksOfOrder('Leaf feed; Untreated\nUntreated\tLeaf feed\nUntreated, Leaf feed', listed);
    expect(other.map(({ block, strips }) => [block?.name, strips.map(({ id }) => id)])).toEqual([
      ['East', ['1', '2']],
      ['West', ['3', '4']],
      ['Block 3', ['5', '6']],
    ]);
    expect(blocksOfOrder('A, B', { ...listed, design: 'completelyRandomized' })[0]?.block).toBeNull();
  });

  it('knows treatments by name or id, makes new ones, and says which', () => {
    const blocks = blocksOfOrder('LEAF, untreated , Two sprays, two sprays', TRIAL);
    const outcome = drawUpLayout({ ...ASKED, blocks }, TRIAL.treatments);
    expect(outcome.problems).toMatchObject([
      { code: 'treatmentsAdded', details: { treatments: ['Two sprays'] } },
    ]);
    expect(unwrap(outcome).strips.map(({ treatment }) => treatment)).toEqual([
      'leaf',
      'untreated',
      'Two sprays',
      'Two sprays',
    ]);
    const taken = unwrap(applyCommand(TRIAL, { name: 'takeLayout', layout: unwrap(outcome) }));
    expect(taken.treatments.map(({ name, costPerHa }) => [name, costPerHa])).toEqual([
      ['Untreated', null],
      ['Leaf feed', 30],
      ['Two sprays', null],
    ]);
  });
});

describe('a layout drawn up', () => {
  it.each<[string, Partial<LayoutToDraw>]>([
    ['edgeLineImpossible', { start: [200, 45] }],
    ['edgeLineImpossible', { end: [20, Number.NaN] }],
    ['edgeLineLength', { end: [20, 45.000001] }],
    ['edgeLineLength', { end: [45, 20] }],
    ['stripWidthImpossible', { stripWidthM: 0 }],
    ['stripWidthImpossible', { gapM: -1 }],
    ['noStripsToDraw', { blocks: blocksOfOrder(' \n ,', TRIAL) }],
    [
      'stripNamedTwice',
      { blocks: [{ block: null, strips: ['a', 'a '].map((id) => ({ id, treatment: 'leaf' })) }] },
    ],
  ])('is refused with %s', (code, changes) => {
    const outcome = drawUpLayout({ ...ASKED, ...changes }, TRIAL.treatments);
    expect(outcome.ok).toBe(false);
    expect(outcome.problems[0]?.code).toBe(code);
  });

  it('comes back the same through its export as GeoJSON', async () => {
    const layout = unwrap(drawUpLayout(ASKED, TRIAL.treatments));
    const trial: TrialDocument = unwrap(applyCommand(TRIAL, { name: 'takeLayout', layout }));
    const { report, trial: lying } = await analyseTrial(trial, []);
    const bytes = new TextEncoder().encode(stripsGeojson(report, lying));
    const read = unwrap(
      readLayout(bytes, 'drawn.geojson', { strip: 'strip', treatment: 'treatment', block: 'block' }),
    );
    const named = (strips: readonly Strip[]) =>
      strips.map(({ id, place, polygon }) => ({ id, place, polygon: polygon?.coordinates }));
    expect(named(read.layout.strips)).toEqual(named(trial.strips));
    expect(read.layout.strips.map(({ treatment }) => treatment)).toEqual(
      trial.strips.map(({ treatment }) => trial.treatments.find(({ id }) => id === treatment)!.name),
    );
  });

  it('takes no move over from a layout that lay there before', () => {
    const layout = unwrap(drawUpLayout(ASKED, TRIAL.treatments));
    const first = unwrap(applyCommand(TRIAL, { name: 'takeLayout', layout }));
    const move = {
      eastM: 3,
      northM: 0,
      turnDegrees: 0,
      mirrored: false,
      renumbered: false,
      how: 'byHand',
    } as const;
    const moved = unwrap(applyCommand(first, { name: 'moveLayout', move }));
    expect('layoutMove' in unwrap(applyCommand(moved, { name: 'takeLayout', layout }))).toBe(false);
  });
});
