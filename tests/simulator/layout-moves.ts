import { localProjection } from '../../src/geometry/local-projection.ts';
import { type LayoutMoveAnswer, proposeLayoutMove } from '../../src/harvest/propose-layout-move.ts';
import { trialAsItLies } from '../../src/trial/layout-as-it-lies.ts';
import type { LayoutMove } from '../../src/trial/layout-move-schema.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';
import { FRAME, pointsFile, trialOfStrips } from '../harvest/field-of-strips.ts';
import { type MachineSpecification, simulateHarvest } from './combine-simulator.ts';
import { seededRandom } from './seeded-random.ts';
import { simulateField } from './simulated-field.ts';

/**
 * Fields to judge the proposed move of a layout on, drawn from a seed: 12 strips of 200 to 400 m, the combine as elsewhere
 * (drift of the receiver 0.2 m, slow stretches, stops, lifts, header down on some turns), a layout planned off by a known
 * move. How the field is harvested:
 *
 * - `headerAsWide`: one pass a strip, the header as wide as it, nothing beside the strips;
 * - `withRests`: a header of 9 m up the middle of each strip of 12 m, then the rests between, over two strips each;
 * - `twoPasses`: two passes a strip;
 * - `allOver`: one pass a strip, and four on either side, as if the field went on;
 * - `unrelated`: a header of 7 to 11 m side by side over strips of 12 m, from one edge of the field to the other.
 *
 * Drawn evenly: shift across up to 1.3 strips either way (`allOver`: up to 0.4), along up to 15 m, turn up to 3 degrees.
 */
export type HarvestPattern = 'headerAsWide' | 'withRests' | 'twoPasses' | 'allOver' | 'unrelated';

export interface LayoutMoveTally {
  readonly fields: number;
  readonly answers: number;
  /** Answers that bring every corner to its place across within 0.5 m. */
  readonly acrossRight: number;
  /** Answers that tell a shift along, and of these the ones within 2 m. */
  readonly alongTold: number;
  readonly alongRight: number;
  /** Answers that say that other places fit as well. */
  readonly saidAmbiguous: number;
}

export function tallyLayoutMoves(seeds: readonly number[], pattern: HarvestPattern): LayoutMoveTally {
  const tally = { fields: 0, answers: 0, acrossRight: 0, alongTold: 0, alongRight: 0, saidAmbiguous: 0 };
  for (const seed of seeds) {
    const { answer, acrossM, alongM } = layoutMoveTrial(seed, pattern);
    tally.fields += 1;
    if (answer.kind === 'cannotTell') continue;
    tally.answers += 1;
    if (acrossM <= 0.5) tally.acrossRight += 1;
    if (answer.along === 'told') tally.alongTold += 1;
    if (answer.along === 'told' && alongM <= 2) tally.alongRight += 1;
    if (answer.others.count > 0) tally.saidAmbiguous += 1;
  }
  return tally;
}

export interface LayoutMoveTrial {
  readonly answer: LayoutMoveAnswer;
  /** Farthest that a corner of a strip lies from where it should, across and along the strips; infinite where cannot tell. */
  readonly acrossM: number;
  readonly alongM: number;
  readonly degrees: number;
}

const STRIPS = 12;
const BESIDE = 4;

export function layoutMoveTrial(seed: number, pattern: HarvestPattern): LayoutMoveTrial {
  const random = seededRandom(seed);
  const isGiven = pattern === 'withRests' || pattern === 'unrelated';
  const widthM = isGiven ? 12 : random.between(6, 14);
  const lengthM = Math.round(random.between(200, 400));
  const headerM =
    pattern === 'unrelated'
      ? random.between(7, 11)
      : isGiven
        ? 9
        : pattern === 'twoPasses'
          ? widthM / 2
          : widthM;
  const beside = pattern === 'allOver' || pattern === 'unrelated' ? BESIDE : 0;
  const field = simulateField(
    {
      stripWidthM: widthM,
      stripLengthM: lengthM,
      yieldKgPerHa: Array.from({ length: STRIPS + 2 * beside }, () => (random.chance(0.5) ? 6000 : 6700)),
      moisturePercent: Array.from({ length: STRIPS + 2 * beside }, () => 15),
      standardMoisturePercent: 15,
      patchShare: 0.06,
    },
    random,
  );
  const { rows } = simulateHarvest(
    field,
    machine(headerM),
    passesOf(pattern, widthM, headerM, beside),
    random,
  );
  const file = pointsFile(rows);
  const lying = trialOfStrips(STRIPS, widthM, lengthM, (east, north) => [east + beside * widthM, north]);
  const reach = pattern === 'allOver' ? 0.4 : 1.3;
  const planned = plannedOff(lying, {
    eastM: random.between(-reach, reach) * widthM,
    northM: random.between(-15, 15),
    turnDegrees: random.between(-3, 3),
  });
  const outcome = proposeLayoutMove(planned, [file]);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const answer = outcome.value;
  if (answer.kind === 'cannotTell') return { answer, acrossM: Infinity, alongM: Infinity, degrees: Infinity };
  return { answer, ...apart(trialAsItLies({ ...planned, layoutMove: answer.move }), lying) };
}

function machine(headerM: number): MachineSpecification {
  return {
    headerM,
    speedMPerS: 1.8,
    speedWanderShare: 0.06,
    lagS: 10,
    mixingS: 2,
    lagTakenOutS: 9,
    driftM: 0.2,
    jitterM: 0.05,
    flowNoiseShare: 0.04,
    moistureNoisePercent: 0.15,
    recordedWidth: 'header',
    faults: {
      slowdownsPerPass: 0.4,
      stopsPerPass: 0.2,
      liftsPerPass: 0.2,
      turnsWithHeaderDownShare: 0.3,
      flowSpikeShare: 0.003,
      moistureSpikeShare: 0.002,
    },
  };
}

function passesOf(
  pattern: HarvestPattern,
  widthM: number,
  headerM: number,
  beside: number,
): readonly number[] {
  const strips = STRIPS + 2 * beside;
  if (pattern === 'twoPasses') return Array.from({ length: 2 * strips }, (_, k) => (k + 0.5) * headerM);
  if (pattern === 'unrelated')
    return Array.from({ length: Math.floor((strips * widthM) / headerM) }, (_, k) => (k + 0.5) * headerM);
  const middles = Array.from({ length: strips }, (_, s) => (s + 0.5) * widthM);
  if (pattern !== 'withRests') return middles;
  return [...middles, ...Array.from({ length: strips + 1 }, (_, s) => s * widthM).reverse()];
}

/** The trial with polygons elsewhere, such that this move of the strips from where they lie was the fault. */
export function plannedOff(
  lying: TrialDocument,
  off: Pick<LayoutMove, 'eastM' | 'northM' | 'turnDegrees'>,
): TrialDocument {
  const move: LayoutMove = { ...off, mirrored: false, renumbered: false, how: 'byHand' };
  return trialAsItLies({ ...lying, layoutMove: move });
}

/** In the frame of the tests the strips run north. */
function apart(
  one: TrialDocument,
  other: TrialDocument,
): Pick<LayoutMoveTrial, 'acrossM' | 'alongM' | 'degrees'> {
  const [a, b] = [cornersOf(one), cornersOf(other)];
  const farthest = (axis: 0 | 1) => Math.max(...a.map((corner, i) => Math.abs(corner[axis]! - b[i]![axis]!)));
  const heading = (corners: readonly (readonly number[])[]) =>
    (Math.atan2(corners[2]![0]! - corners[1]![0]!, corners[2]![1]! - corners[1]![1]!) * 180) / Math.PI;
  return { acrossM: farthest(0), alongM: farthest(1), degrees: Math.abs(heading(a) - heading(b)) };
}

function cornersOf({ strips }: TrialDocument): readonly (readonly number[])[] {
  const { toLocal } = localProjection(FRAME);
  return strips.flatMap(({ polygon }) =>
    (polygon!.coordinates[0] as [number, number][]).map(([longitude, latitude]) =>
      toLocal(longitude, latitude),
    ),
  );
}
