import { type LocalFrame, localProjection } from '../../src/geometry/local-projection.ts';
import type { HarvestPointsInput } from '../../src/harvest/harvest-input.ts';
import { newTrial } from '../../src/trial/starting-settings.ts';
import type { HarvestSettings, TrialDocument, YieldColumnAnswers } from '../../src/trial/trial-document.ts';

/** Somewhere on no one's land; every test field lies around it. */
export const FRAME: LocalFrame = { originLongitude: 20, originLatitude: 45 };

export type Place = (eastM: number, northM: number) => readonly [number, number];
export const AS_IT_LIES: Place = (eastM, northM) => [eastM, northM];

export function geographic(eastM: number, northM: number, place: Place = AS_IT_LIES): [number, number] {
  const [longitude, latitude] = localProjection(FRAME).toGeographic(...place(eastM, northM));
  return [longitude, latitude];
}

/** `count` strips side by side, running north, the first one's west edge at 0; treatments A, B in turn. */
export function trialOfStrips(
  count: number,
  widthM: number,
  lengthM: number,
  place: Place = AS_IT_LIES,
): TrialDocument {
  const corner = (eastM: number, northM: number) => geographic(eastM, northM, place);
  return {
    ...newTrial('test'),
    standardMoisturePercent: 15,
    treatments: ['A', 'B'].map((id) => ({
      id,
      name: `treatment ${id}`,
      isCheck: id === 'A',
      costPerHa: null,
      applicationCostPerHa: null,
    })),
    blocks: Array.from({ length: Math.ceil(count / 2) }, (_, b) => ({
      id: `${b + 1}`,
      name: `Block ${b + 1}`,
    })),
    strips: Array.from({ length: count }, (_, s) => ({
      id: `s${s + 1}`,
      treatment: s % 2 === 0 ? 'A' : 'B',
      block: `${Math.floor(s / 2) + 1}`,
      place: null,
      polygon: {
        type: 'Polygon' as const,
        coordinates: [
          [
            corner(s * widthM, 0),
            corner((s + 1) * widthM, 0),
            corner((s + 1) * widthM, lengthM),
            corner(s * widthM, lengthM),
            corner(s * widthM, 0),
          ],
        ],
      },
    })),
  };
}

export function withSettings(trial: TrialDocument, settings: Partial<HarvestSettings>): TrialDocument {
  return { ...trial, harvest: { ...trial.harvest, ...settings } };
}

/** Every screen off and no margin: what is in a strip counts. */
export const NO_SCREENS: HarvestSettings = {
  endMarginM: 0,
  sideMarginM: 0,
  headerWidthM: null,
  shiftLagS: 0,
  speedMinMPerS: null,
  speedMaxMPerS: null,
  speedChangePercent: null,
  turnDegrees: null,
  turnWithinS: 3,
  widthShareMin: null,
  moistureMinPercent: null,
  moistureMaxPercent: null,
  yieldMinKgPerHa: null,
  yieldMaxTimesMedian: null,
  outlierRobustSd: null,
};

export const ALREADY_STANDARD: YieldColumnAnswers = {
  heading: 'yield',
  moistureBasis: 'standard',
  atMoisturePercent: null,
  lagAppliedS: 0,
  alreadyFiltered: false,
  loggedPosition: 'header',
};

export interface PointRow {
  readonly eastM: number;
  readonly northM: number;
  readonly yieldKgPerHa?: number;
  readonly massFlowKgPerS?: number;
  readonly massKg?: number;
  readonly moisturePercent?: number;
  readonly speedMPerS?: number;
  readonly distanceM?: number;
  readonly widthM?: number;
  readonly headingDegrees?: number;
  readonly timeS?: number;
  readonly headerDown?: number;
}

const COLUMNS = [
  'yieldKgPerHa',
  'massFlowKgPerS',
  'massKg',
  'moisturePercent',
  'speedMPerS',
  'distanceM',
  'widthM',
  'headingDegrees',
  'timeS',
] as const;

/** A file with the columns that its first row has. */
export function pointsFile(
  rows: readonly PointRow[],
  answers: YieldColumnAnswers = ALREADY_STANDARD,
  place: Place = AS_IT_LIES,
): HarvestPointsInput {
  const positions = rows.map(({ eastM, northM }) => geographic(eastM, northM, place));
  const columns = Object.fromEntries(
    COLUMNS.map((name) => [
      name,
      rows[0]?.[name] === undefined ? null : Float64Array.from(rows, (row) => row[name] ?? Number.NaN),
    ]),
  ) as Pick<HarvestPointsInput, (typeof COLUMNS)[number]>;
  return {
    file: 'points.csv',
    count: rows.length,
    longitude: Float64Array.from(positions, ([longitude]) => longitude),
    latitude: Float64Array.from(positions, ([, latitude]) => latitude),
    ...columns,
    headerDown:
      rows[0]?.headerDown === undefined ? null : Uint8Array.from(rows, (row) => row.headerDown ?? 255),
    yieldColumn: answers,
  };
}
