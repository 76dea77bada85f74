import type { MachineSpecification } from './combine-simulator.ts';
import type { SeededRandom } from './seeded-random.ts';

/** One step of the machine: where it is, which way it heads, how fast, and whether it is in a pass or turning. */
export interface DriveStep {
  readonly eastM: number;
  readonly northM: number;
  readonly headingDegrees: number;
  readonly speedMPerS: number;
  /** Index of the pass; -1 while turning. */
  readonly pass: number;
  readonly isHeaderDown: boolean;
}

export const STEP_S = 0.2;
const HEADLAND_M = 15;
/** The header goes down this far before the crop and up as far behind it. */
const HEADER_LEAD_M = 2;

/** Back and forth over the passes in their order, half a circle on the headland from one to the next. */
export function* drive(
  passesEastM: readonly number[],
  lengthM: number,
  machine: MachineSpecification,
  random: SeededRandom,
): Generator<DriveStep> {
  for (const [pass, eastM] of passesEastM.entries()) {
    const isNorthward = pass % 2 === 0;
    yield* drivePass(eastM, pass, isNorthward, lengthM, machine, random);
    const next = passesEastM[pass + 1];
    if (next !== undefined) yield* driveTurn(eastM, next, isNorthward, lengthM, machine, random);
  }
}

function* drivePass(
  eastM: number,
  pass: number,
  isNorthward: boolean,
  lengthM: number,
  machine: MachineSpecification,
  random: SeededRandom,
): Generator<DriveStep> {
  const { faults } = machine;
  const wholeM = lengthM + 2 * HEADLAND_M;
  const somewhere = (share: number) =>
    random.chance(share) ? HEADLAND_M + lengthM * random.between(0.1, 0.9) : Number.POSITIVE_INFINITY;
  const slowAtM = somewhere(faults.slowdownsPerPass);
  const stopAtM = somewhere(faults.stopsPerPass);
  const liftAtM = somewhere(faults.liftsPerPass);
  let stoppedS = stopAtM < wholeM ? random.between(5, 12) : 0;
  let wander = random.normal();
  let drivenM = 0;
  while (drivenM < wholeM) {
    wander = 0.995 * wander + Math.sqrt(1 - 0.995 ** 2) * random.normal();
    const isSlow = drivenM >= slowAtM && drivenM < slowAtM + 10;
    const isStopped = drivenM >= stopAtM && stoppedS > 0;
    if (isStopped) stoppedS -= STEP_S;
    const cruising = machine.speedMPerS * (1 + machine.speedWanderShare * wander);
    const speedMPerS = isStopped ? 0 : Math.max(0.3, cruising) * (isSlow ? 0.5 : 1);
    const inFieldM = drivenM - HEADLAND_M;
    const isLifted = drivenM >= liftAtM && drivenM < liftAtM + 8;
    yield {
      eastM,
      northM: isNorthward ? inFieldM : lengthM - inFieldM,
      headingDegrees: isNorthward ? 0 : 180,
      speedMPerS,
      pass,
      isHeaderDown: inFieldM > -HEADER_LEAD_M && inFieldM < lengthM + HEADER_LEAD_M && !isLifted,
    };
    drivenM += speedMPerS * STEP_S;
  }
}

function* driveTurn(
  fromEastM: number,
  toEastM: number,
  isNorthward: boolean,
  lengthM: number,
  machine: MachineSpecification,
  random: SeededRandom,
): Generator<DriveStep> {
  const radiusM = Math.abs(toEastM - fromEastM) / 2;
  const side = Math.sign(toEastM - fromEastM);
  const forward = isNorthward ? 1 : -1;
  const edgeM = isNorthward ? lengthM + HEADLAND_M : -HEADLAND_M;
  const speedMPerS = 0.7 * machine.speedMPerS;
  const isHeaderDown = random.chance(machine.faults.turnsWithHeaderDownShare);
  for (let drivenM = 0; drivenM < Math.PI * radiusM; drivenM += speedMPerS * STEP_S) {
    const angle = drivenM / radiusM;
    yield {
      eastM: fromEastM + side * radiusM * (1 - Math.cos(angle)),
      northM: edgeM + forward * radiusM * Math.sin(angle),
      headingDegrees: (Math.atan2(side * Math.sin(angle), forward * Math.cos(angle)) * 180) / Math.PI,
      speedMPerS,
      pass: -1,
      isHeaderDown,
    };
  }
}
