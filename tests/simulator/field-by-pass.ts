import { geographic } from '../harvest/field-of-strips.ts';
import { type MachineSpecification, simulateHarvest } from './combine-simulator.ts';
import { seededRandom } from './seeded-random.ts';
import { simulateField } from './simulated-field.ts';

/**
 * A field that was never mapped: eight strips as wide as the header between two border passes, two treatments in four
 * blocks, 600 kg/ha apart, and the yield monitor's file as text. Passes 2 to 9 from the west are the strips 1 to 8.
 */
export const TREATED = [1, 4, 5, 8] as const;
const STRIPS = 8;
const HEADER_M = 9;

const MACHINE: MachineSpecification = {
  headerM: HEADER_M,
  speedMPerS: 1.8,
  speedWanderShare: 0.04,
  lagS: 10,
  mixingS: 1,
  lagTakenOutS: 10,
  driftM: 0.2,
  jitterM: 0.05,
  flowNoiseShare: 0.04,
  moistureNoisePercent: 0.15,
  recordedWidth: 'header',
  faults: {
    slowdownsPerPass: 0.2,
    stopsPerPass: 0,
    liftsPerPass: 0,
    turnsWithHeaderDownShare: 0,
    flowSpikeShare: 0.002,
    moistureSpikeShare: 0,
  },
};

/** The strips of a trial as a list; `passes` adds the column that says where each was harvested. */
export function stripList(passes: boolean): string {
  const rows = Array.from({ length: STRIPS }, (_, k) => {
    const treatment = isTreated(k + 1) ? 'Leaf spray' : 'Untreated';
    return [`S${k + 1}`, treatment, `${Math.floor(k / 2) + 1}`, ...(passes ? [`${k + 2}`] : [])].join(',');
  });
  return [['strip', 'treatment', 'block', ...(passes ? ['passes'] : [])].join(','), ...rows, ''].join('\n');
}

export function harvestText(lengthM = 300): string {
  const random = seededRandom(11);
  const all = Array.from({ length: STRIPS + 2 }, (_, k) => k);
  const field = simulateField(
    {
      stripWidthM: HEADER_M,
      stripLengthM: lengthM,
      yieldKgPerHa: all.map((k) => 6000 + (isTreated(k) ? 600 : 0) + 40 * k),
      moisturePercent: all.map(() => 15),
      standardMoisturePercent: 15,
      patchShare: 0.03,
    },
    random,
  );
  const order = [0, 5, 1, 6, 2, 7, 3, 8, 4, 9].map((k) => HEADER_M * (k + 0.5));
  const { rows } = simulateHarvest(field, MACHINE, order, random);
  const heading =
    'Longitude,Latitude,Time (s),Distance (m),Speed (m/s),Swath width (m),Header,Mass flow (kg/s),Moisture (%)';
  const lines = rows.map((row) => {
    const [longitude, latitude] = geographic(row.eastM, row.northM);
    return [
      longitude.toFixed(8),
      latitude.toFixed(8),
      row.timeS,
      row.distanceM.toFixed(3),
      row.speedMPerS.toFixed(3),
      row.widthM,
      row.headerDown,
      row.massFlowKgPerS.toFixed(4),
      row.moisturePercent.toFixed(2),
    ].join(',');
  });
  return [heading, ...lines, ''].join('\n');
}

function isTreated(strip: number): boolean {
  return TREATED.some((own) => own === strip);
}
