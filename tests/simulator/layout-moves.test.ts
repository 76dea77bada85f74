import { describe, expect, it } from 'vitest';
import { proposeLayoutMove } from '../../src/harvest/propose-layout-move.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { type Place, type PointRow, pointsFile, trialOfStrips } from '../harvest/field-of-strips.ts';
import { type Drive, serpentineTrack } from '../harvest/serpentine.ts';
import { type HarvestPattern, plannedOff, tallyLayoutMoves } from './layout-moves.ts';

const DRIVE: Drive = { lengthM: 300, headlandM: 15, stepM: 2 };
const FIRST_SEED = 500_001;
const FIELDS = 6;
const seeds = Array.from({ length: FIELDS }, (_, k) => FIRST_SEED + k);

/** Passes driven without any noise; a yield that differs from point to point. */
function rows(easts: readonly number[], headerM: number, seed = 1): PointRow[] {
  return serpentineTrack(easts, DRIVE).map((point, i) => ({
    ...point,
    widthM: headerM,
    distanceM: 2,
    yieldKgPerHa: 4000 + ((i * seed * 7919) % 4000),
  }));
}

function proposed(trial: TrialDocument, points: readonly PointRow[]) {
  const outcome = proposeLayoutMove(trial, [pointsFile(points)]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

const LYING = trialOfStrips(6, 12, 300);
const MIDDLES = [6, 18, 30, 42, 54, 66];

describe('a move of the layout proposed from simulated passes, on seeds not used for tuning', () => {
  it.each<HarvestPattern>(['headerAsWide', 'withRests', 'twoPasses', 'allOver'])(
    'brings the strips back to 0.5 m across and 2 m along where they lay: %s',
    (pattern) => {
      const tally = tallyLayoutMoves(seeds, pattern);
      expect(tally).toMatchObject({ answers: FIELDS, acrossRight: FIELDS });
      expect(tally.alongRight).toBe(tally.alongTold);
      // A field harvested all over looks the same one header on, and only there must that be said.
      expect(tally.saidAmbiguous).toBe(pattern === 'allOver' ? FIELDS : 0);
    },
  );

  it('is refused where headers and strips do not go together', () => {
    expect(tallyLayoutMoves(seeds, 'unrelated').answers).toBe(0);
  });
});

describe('a move of the layout proposed from passes without noise', () => {
  it('is known to 0.1 m, and to a metre along', () => {
    const off = { eastM: 3.4, northM: -8, turnDegrees: 1.5 };
    const answer = proposed(plannedOff(LYING, off), rows(MIDDLES, 12));
    if (answer.kind !== 'move') throw new Error(`expected a move, got ${answer.kind}`);
    expect(answer.found.turnDegrees).toBeCloseTo(-1.5, 1);
    expect(answer.after.wholePasses).toBe(6);
    expect(answer.before.wholePasses).toBe(0);
    expect(answer.after.share).toBeGreaterThan(0.99);
    expect(answer.move.how).toBe('proposed');
    // The inverse of the fault: it was turned after the shift, about its own middle.
    expect(Math.abs(answer.move.eastM + 3.4)).toBeLessThan(0.1);
    expect(Math.abs(answer.move.northM - 8)).toBeLessThan(1);
  });

  it('is none where the strips lie right, and nothing is moved by it', () => {
    const answer = proposed(LYING, rows(MIDDLES, 12));
    expect(answer.kind).toBe('fits');
  });

  it('looks at no yield: other yields give the same answer', () => {
    const planned = plannedOff(LYING, { eastM: 3.4, northM: 0, turnDegrees: 1 });
    expect(proposed(planned, rows(MIDDLES, 12, 3))).toEqual(proposed(planned, rows(MIDDLES, 12, 5)));
  });

  it('goes on from the move that stands, keeps how it was mirrored and numbered, and is settled by itself', () => {
    const planned = plannedOff(LYING, { eastM: -2, northM: 0, turnDegrees: 1 });
    const layoutMove = {
      eastM: 1,
      northM: 4,
      turnDegrees: 0.5,
      mirrored: true,
      renumbered: true,
      how: 'byHand' as const,
    };
    const answer = proposed({ ...planned, layoutMove }, rows(MIDDLES, 12));
    if (answer.kind !== 'move') throw new Error(`expected a move, got ${answer.kind}`);
    expect(answer.move).toMatchObject({ mirrored: true, renumbered: true, how: 'proposed' });
    expect(answer.after.wholePasses).toBe(6);
    const again = proposed({ ...planned, layoutMove: answer.move }, rows(MIDDLES, 12));
    expect(again.kind).toBe('fits');
  });

  it.each([0, 37, 90, 171])(
    'is the same wherever the field lies and however it is turned: %i degrees',
    (degrees) => {
      const [cosine, sine] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const place: Place = (east, north) => [
        800 + east * cosine - north * sine,
        east * sine + north * cosine,
      ];
      const planned = trialOfStrips(6, 12, 300, (east, north) => place(east + 3, north - 8));
      const outcome = proposeLayoutMove(planned, [pointsFile(rows(MIDDLES, 12), undefined, place)]);
      if (!outcome.ok || outcome.value.kind !== 'move') throw new Error('expected a move');
      const { found } = outcome.value;
      expect(Math.abs(found.acrossM)).toBeCloseTo(3, 1);
      expect(Math.abs(found.alongM)).toBeCloseTo(8, 1);
      expect(found.turnDegrees).toBe(0);
    },
  );

  it('serves blocks that lie end to end, of which one pass cuts two strips', () => {
    const near = trialOfStrips(6, 12, 150, (east, north) => [east + 3, north - 8]);
    const far = trialOfStrips(6, 12, 150, (east, north) => [east + 3, north + 142]);
    const beyond = far.strips.map((strip) => ({ ...strip, id: `far ${strip.id}` }));
    const answer = proposed({ ...near, strips: [...near.strips, ...beyond] }, rows(MIDDLES, 12));
    if (answer.kind !== 'move') throw new Error(`expected a move, got ${answer.kind}`);
    expect(answer.found.acrossM).toBeCloseTo(-3, 1);
    expect(answer.found.alongM).toBeCloseTo(8, 1);
  });

  it('takes the middle where the header leaves room, and says how much', () => {
    const answer = proposed(plannedOff(LYING, { eastM: 4, northM: 0, turnDegrees: 0 }), rows(MIDDLES, 9));
    if (answer.kind !== 'move') throw new Error(`expected a move, got ${answer.kind}`);
    expect(Math.abs(answer.found.acrossM + 4)).toBeLessThan(0.06);
    expect(Math.abs(answer.slackM - 1.5)).toBeLessThan(0.15);
  });

  it('says that the layout fits as well one strip on where the field goes on, and takes the nearest', () => {
    const more = [-18, -6, ...MIDDLES, 78, 90];
    const answer = proposed(plannedOff(LYING, { eastM: 4, northM: 0, turnDegrees: 0 }), rows(more, 12));
    if (answer.kind !== 'move') throw new Error(`expected a move, got ${answer.kind}`);
    expect(answer.found.acrossM).toBeCloseTo(-4, 1);
    // Two strips either way keep every strip under a pass.
    expect(answer.others.count).toBe(4);
    expect(answer.others.nextM).toBeCloseTo(12, 0);
  });

  it('does not tell a shift along without the state of the header, or where passes are longer than strips', () => {
    const planned = plannedOff(LYING, { eastM: 3, northM: 9, turnDegrees: 0 });
    const bare = rows(MIDDLES, 12).map(({ headerDown: _, ...row }) => row);
    const answer = proposed(planned, bare);
    expect(answer).toMatchObject({ kind: 'move', along: 'noHeaderState' });
    const short = plannedOff(trialOfStrips(6, 12, 200), { eastM: 3, northM: 40, turnDegrees: 0 });
    expect(proposed(short, rows(MIDDLES, 12))).toMatchObject({ along: 'endsDisagree', found: { alongM: 0 } });
  });

  it('is refused with the reason: no header width, too few passes, passes across the strips, passes elsewhere', () => {
    const bare = rows(MIDDLES, 12).map(({ widthM: _, ...row }) => row);
    expect(proposed(LYING, bare)).toMatchObject({ kind: 'cannotTell', why: 'noHeaderWidth' });
    expect(proposed(LYING, rows([6, 18], 12))).toMatchObject({ why: 'tooFewPasses', passes: 2 });
    const across = trialOfStrips(6, 12, 300, (east, north) => [150 - north, east]);
    expect(proposed(across, rows(MIDDLES, 12))).toMatchObject({ why: 'passesRunAcross' });
    const sprayed = {
      ...LYING,
      strips: LYING.strips.map((one) => ({ ...one, appliedPolygon: one.polygon })),
    };
    expect(proposed(sprayed, rows(MIDDLES, 12))).toMatchObject({ why: 'allAsApplied' });
    const elsewhere = plannedOff(LYING, { eastM: 500, northM: 0, turnDegrees: 0 });
    expect(proposed(elsewhere, rows(MIDDLES, 12))).toMatchObject({ why: 'outOfReach' });
  });
});
