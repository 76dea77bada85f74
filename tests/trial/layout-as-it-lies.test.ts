import { describe, expect, it } from 'vitest';
import { localProjection } from '../../src/geometry/local-projection.ts';
import { inverseMove } from '../../src/geometry/plane-move.ts';
import { stripGrounds } from '../../src/harvest/strip-ground.ts';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand, type TrialCommand } from '../../src/trial/commands.ts';
import {
  layoutMoveProblems,
  layoutMoveText,
  pinOf,
  trialAsItLies,
} from '../../src/trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../src/trial/layout-move-schema.ts';
import { openTrial, trialText } from '../../src/trial/open-trial.ts';
import type { Strip, TrialDocument } from '../../src/trial/trial-document.ts';
import { FRAME, trialOfStrips } from '../harvest/field-of-strips.ts';

const STILL: LayoutMove = {
  eastM: 0,
  northM: 0,
  turnDegrees: 0,
  mirrored: false,
  renumbered: false,
  how: 'byHand',
};
const MOVED: LayoutMove = { ...STILL, eastM: 7.5, northM: -4.25, turnDegrees: 3.1 };
const SLANTED = (east: number, north: number) => [east + 0.3 * north, north - 0.1 * east] as const;

function withPlaces(trial: TrialDocument): TrialDocument {
  return { ...trial, strips: trial.strips.map((strip, i) => ({ ...strip, place: i + 1 })) };
}

const PLANNED = withPlaces(trialOfStrips(6, 12, 300));

function run(trial: TrialDocument, ...commands: readonly TrialCommand[]): TrialDocument {
  return commands.reduce((current, command) => {
    const outcome = applyCommand(current, command);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    return outcome.value;
  }, trial);
}

const moved = (move: LayoutMove | null): TrialCommand => ({ name: 'moveLayout', move });

/** Corners by strip, in metres of one frame. */
function corners(trial: TrialDocument): Record<string, number[][]> {
  const { toLocal } = localProjection(FRAME);
  return Object.fromEntries(
    trial.strips.map(({ id, polygon }) => [
      id,
      polygon?.type === 'Polygon'
        ? polygon.coordinates[0]!.map(([east, north]) => [...toLocal(east, north)])
        : [],
    ]),
  );
}

function farthest(a: TrialDocument, b: TrialDocument): number {
  const [one, other] = [corners(a), corners(b)];
  return Math.max(
    ...Object.keys(one).flatMap((id) =>
      one[id]!.map(([east = 0, north = 0], i) =>
        Math.hypot(east - other[id]![i]![0]!, north - other[id]![i]![1]!),
      ),
    ),
  );
}

describe('a moved layout', () => {
  it('keeps the plan, and lies elsewhere by what was asked', () => {
    const trial = run(PLANNED, moved({ ...STILL, eastM: 7.5, northM: -4.25 }));
    expect(trial.strips).toEqual(PLANNED.strips);
    const [from, to] = [corners(PLANNED).s2!, corners(trialAsItLies(trial)).s2!];
    from.forEach(([east, north], i) => {
      expect(to[i]![0]! - east!).toBeCloseTo(7.5, 3);
      expect(to[i]![1]! - north!).toBeCloseTo(-4.25, 3);
    });
  });

  it.each([
    MOVED,
    { ...MOVED, mirrored: true },
    { ...STILL, mirrored: true },
    { ...STILL, turnDegrees: -170 },
  ])(
    'moved back by the inverse lies where it was planned, within the micrometre that the projection keeps: %o',
    (move) => {
      const planned = { ...trialOfStrips(6, 12, 300, SLANTED), layoutMove: move };
      const pinned = pinOf(planned.strips)!;
      const lying = trialAsItLies(planned);
      const back = inverseMove({ ...move, axisDegrees: pinned.axisDegrees });
      const again = trialAsItLies({ ...lying, layoutMove: { ...move, ...back, pinned } });
      expect(farthest(again, planned)).toBeLessThan(2e-7);
    },
  );

  it('keeps the areas of its strips, corners that neighbours share, and corners that close a ring', () => {
    const lying = trialAsItLies({ ...PLANNED, layoutMove: { ...MOVED, mirrored: true } });
    const areas = ({ strips }: TrialDocument) => stripGrounds(strips, FRAME).map(({ areaM2 }) => areaM2);
    areas(lying).forEach((areaM2, i) => {
      // The scale of the projection changes by 1e-11 over these few metres.
      expect(Math.abs(areaM2 / areas(PLANNED)[i]! - 1)).toBeLessThan(1e-9);
    });
    const rings = lying.strips.map(({ polygon }) => polygon!.coordinates[0] as number[][]);
    expect(rings[0]![0]).toEqual(rings[0]!.at(-1));
    expect(rings[0]![1]).toEqual(rings[1]![0]);
    expect(rings[0]![2]).toEqual(rings[1]![3]);
  });

  it('mirrored, of equal strips, is nearly the same as numbered from the other edge, ground for ground', () => {
    const grounds = (move: Partial<LayoutMove>) =>
      Object.values(corners(trialAsItLies({ ...PLANNED, layoutMove: { ...STILL, ...move } }))).map((ring) =>
        Math.min(...ring.map(([east]) => east!)),
      );
    const [mirrored, renumbered] = [grounds({ mirrored: true }), grounds({ renumbered: true })];
    mirrored.forEach((east, i) => {
      // The middle of the corners in degrees lies 2 mm beside that in metres.
      expect(Math.abs(east - renumbered[i]!)).toBeLessThan(0.005);
    });
    expect(renumbered[0]).toBeCloseTo(60, 6);
  });

  it('is moved once only: as it lies it stands without the move', () => {
    const lying = trialAsItLies({ ...PLANNED, layoutMove: MOVED });
    expect('layoutMove' in lying).toBe(false);
    expect(trialAsItLies(lying)).toBe(lying);
    expect(trialAsItLies(PLANNED)).toBe(PLANNED);
  });
});

describe('strips numbered from the other edge', () => {
  const RENUMBERED = { ...STILL, renumbered: true };

  it('exchange ground and place, twice back to where they were', () => {
    const once = trialAsItLies({ ...PLANNED, layoutMove: RENUMBERED });
    expect(once.strips.map(({ id, place }) => [id, place])).toEqual(
      PLANNED.strips.map(({ id }, i) => [id, 6 - i]),
    );
    expect(once.strips[0]!.polygon).toEqual(PLANNED.strips[5]!.polygon);
    expect(trialAsItLies({ ...once, layoutMove: RENUMBERED }).strips).toEqual(PLANNED.strips);
  });

  it('end to end keep their half of the field', () => {
    const near = trialOfStrips(3, 12, 100).strips;
    const far = trialOfStrips(3, 12, 100, (east, north) => [east, north + 100]).strips;
    const both = {
      ...PLANNED,
      strips: [...near, ...far.map((strip) => ({ ...strip, id: `far ${strip.id}` }))],
    };
    const lying = trialAsItLies({ ...both, layoutMove: RENUMBERED });
    const polygonOf = (strips: readonly Strip[], id: string) => strips.find((one) => one.id === id)?.polygon;
    expect(polygonOf(lying.strips, 's1')).toEqual(polygonOf(both.strips, 's3'));
    expect(polygonOf(lying.strips, 'far s1')).toEqual(polygonOf(both.strips, 'far s3'));
  });

  it('are refused where they do not pair up, and then lie on no known ground', () => {
    const far = trialOfStrips(1, 12, 100, (east, north) => [east, north + 300]).strips;
    const odd = { ...PLANNED, strips: [...PLANNED.strips, { ...far[0]!, id: 'beyond' }] };
    const outcome = applyCommand(odd, moved(RENUMBERED));
    expect(outcome.problems[0]?.code).toBe('renumberingImpossible');
    const written = { ...odd, layoutMove: RENUMBERED };
    expect(layoutMoveProblems(written)[0]).toMatchObject({
      severity: 'error',
      code: 'renumberingImpossible',
    });
    expect(trialAsItLies(written).strips.every(({ polygon }) => polygon === null)).toBe(true);
  });
});

describe('the move in the document', () => {
  it('survives saving, and one that moves nothing is not kept', () => {
    const trial = run(PLANNED, moved(MOVED));
    const opened = openTrial(trialText(trial));
    expect(opened.ok && opened.value.layoutMove).toEqual(MOVED);
    expect('layoutMove' in run(trial, moved(STILL))).toBe(false);
    expect(run(trial, moved(null))).toEqual(PLANNED);
    expect(applyCommand(PLANNED, moved({ ...MOVED, eastM: 5000 })).ok).toBe(false);
  });

  it('leaves all other strips where they lie when one is removed', () => {
    for (const move of [
      MOVED,
      { ...MOVED, mirrored: true, renumbered: true },
      { ...STILL, renumbered: true },
    ]) {
      const before = run(trialAsPlanned(), moved(move));
      const after = run(before, { name: 'removeStrip', id: 's1' }, { name: 'removeStrip', id: 's4' });
      const lay = trialAsItLies(before);
      const kept = { ...lay, strips: lay.strips.filter(({ id }) => id !== 's1' && id !== 's4') };
      expect(farthest(kept, trialAsItLies(after))).toBe(0);
      expect(after.layoutMove).toMatchObject(move);
    }
  });

  it('cannot be numbered back once a strip went, and says so', () => {
    const after = run(PLANNED, moved({ ...STILL, renumbered: true }), { name: 'removeStrip', id: 's1' });
    expect(applyCommand(after, moved(null)).problems[0]?.code).toBe('renumberingSettled');
    expect(run(after, moved({ ...MOVED, renumbered: true })).layoutMove?.eastM).toBe(7.5);
  });

  it('stays with the same layout read anew, and goes with another one', () => {
    const file = { path: 'strips.geojson', properties: { strip: null, treatment: null, block: null } };
    const layout = { file, treatments: PLANNED.treatments, blocks: PLANNED.blocks, strips: PLANNED.strips };
    const trial = run({ ...PLANNED, layoutFile: file }, moved(MOVED));
    expect(run(trial, { name: 'takeLayout', layout }).layoutMove).toEqual(MOVED);
    const other = { ...layout, file: { ...file, path: 'other.geojson' } };
    expect(run(trial, { name: 'takeLayout', layout: other }).layoutMove).toBeUndefined();
    // A document that names a layout file and holds no strips yet.
    const unread = { ...PLANNED, strips: [], blocks: [], layoutFile: file, layoutMove: MOVED };
    expect(run(unread, { name: 'takeLayout', layout }).layoutMove).toEqual(MOVED);
  });

  it('set after the harvest was seen is listed in words, set before it is not', () => {
    const stamp: TrialCommand = { name: 'stampSettings', at: '2026-08-01T10:00:00.000Z' };
    expect(changedAfterSeeing(run(PLANNED, moved(MOVED), stamp))).toEqual([]);
    expect(changedAfterSeeing(run(PLANNED, stamp, moved(MOVED)))).toEqual([
      {
        path: 'layoutMove',
        before: '"as planned"',
        now: '"7.5 m east, 4.25 m south, turned 3.1 degrees clockwise"',
      },
    ]);
    expect(layoutMoveText({ ...STILL, eastM: -1, mirrored: true })).toBe('1 m west, mirrored');
  });
});

function trialAsPlanned(): TrialDocument {
  return withPlaces(trialOfStrips(6, 12, 300, SLANTED));
}
