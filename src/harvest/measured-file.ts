import { quickselect } from 'simple-statistics';
import type { HarvestSettings } from '../trial/trial-document.ts';
import {
  atStandardMoisture,
  chooseMoistureCorrection,
  type MoistureCorrection,
} from './moisture-correction.ts';
import { type OwnOfFile, ownBySettings } from './own-of-file.ts';
import type { PlacedFile } from './placed-file.ts';
import { type PointGround, pointGround, pointSpeed } from './point-ground.ts';
import { isMassUnknown, type MassUnknown, pointMass } from './point-mass.ts';
import { JUMPED, type PositionFaults, positionFaults, REPEATED } from './position-faults.ts';
import type { Assumption } from './problem-codes.ts';
import { headingFromTrack } from './travel-heading.ts';

/** A placed file with what was harvested at each point, brought to standard moisture where that is possible. */
export interface MeasuredFile extends PlacedFile {
  readonly headerM: number | null;
  readonly ground: PointGround;
  /** At standard moisture; kg where the ground is in m². null: yields at standard times ground. */
  readonly massAtStandard: Float64Array | null;
  readonly yieldAtStandardKgPerHa: Float64Array;
  /** Before moisture and calibration. */
  readonly recordedYield: Float64Array;
  readonly moisturePercent: Float64Array | null;
  readonly correction: MoistureCorrection;
  readonly speedMPerS: Float64Array | null;
  /** As recorded, else of the track. */
  readonly headingDegrees: Float64Array;
  /** Of the smoothed track: NaN where the machine did not move. */
  readonly trackHeadingDegrees: Float64Array;
  /** null: nothing to judge positions by, or not asked for. */
  readonly positionFaults: PositionFaults | null;
  readonly assumptions: readonly Assumption[];
}

export function measureFile(
  placed: PlacedFile,
  settings: HarvestSettings,
  standardPercent: number | null,
  own: OwnOfFile = ownBySettings(settings),
): MeasuredFile | MassUnknown {
  const { input, interval } = placed;
  const headerM = settings.headerWidthM ?? recordedHeader(placed);
  const ground = pointGround(input, interval, headerM);
  const harvested = pointMass(input, interval, ground, own);
  if (isMassUnknown(harvested)) return harvested;
  const { moisturePercent } = harvested;
  const chosen = chooseMoistureCorrection(
    input.file,
    input.yieldColumn,
    moisturePercent !== null,
    standardPercent,
  );
  const trackHeadingDegrees = headingFromTrack(placed.eastM, placed.northM, interval.run);
  const faults = settings.positionScreen === false ? null : positionFaults(placed, ground);
  const atStandard = (values: Float64Array) =>
    atStandardMoisture(values, chosen.correction, moisturePercent, own.massFactor);
  return {
    ...placed,
    headerM,
    ground,
    massAtStandard: harvested.mass === null ? null : atStandard(harvested.mass),
    recordedYield: harvested.yieldKgPerHa,
    yieldAtStandardKgPerHa: atStandard(harvested.yieldKgPerHa),
    moisturePercent,
    correction: chosen.correction,
    speedMPerS: pointSpeed(input, interval),
    headingDegrees: input.headingDegrees ?? trackHeadingDegrees,
    trackHeadingDegrees,
    positionFaults: faults,
    assumptions: [
      ...chosen.assumptions,
      ...ownAssumptions(input, own),
      ...fileAssumptions(placed, settings, headerM, ground),
      ...positionAssumption(input.file, faults),
    ],
  };
}

/** The header is the width that a tenth of the points in the strips reach or pass. */
const HEADER_QUANTILE = 0.9;

/**
 * Header width from the recorded widths: their upper decile, not their middle, since a log that records what was
 * really cut can hold more part-width points than full ones, and a header never cuts wider than it is.
 */
export function recordedHeader({ input, strip }: Pick<PlacedFile, 'input' | 'strip'>): number | null {
  const { widthM } = input;
  if (widthM === null) return null;
  const recorded = new Float64Array(widthM.length);
  let count = 0;
  for (let i = 0; i < recorded.length; i++) {
    if (widthM[i]! > 0 && strip[i]! >= 0) recorded[count++] = widthM[i]!;
  }
  if (count === 0) return null;
  const place = Math.ceil(HEADER_QUANTILE * count) - 1;
  quickselect(recorded as unknown as number[], place, 0, count - 1);
  return recorded[place]!;
}

function fileAssumptions(
  placed: PlacedFile,
  settings: HarvestSettings,
  headerM: number | null,
  ground: PointGround,
): Assumption[] {
  const { input } = placed;
  const { file, yieldColumn } = input;
  const { heading } = yieldColumn;
  const said: (Assumption | null)[] = [
    yieldColumn.alreadyFiltered === null ? { code: 'filteredUnknown', details: { file, heading } } : null,
    yieldColumn.loggedPosition === null ? { code: 'loggedPositionUnknown', details: { file } } : null,
    yieldColumn.loggedPosition === 'antenna' ? { code: 'antennaNotMovedToHeader', details: { file } } : null,
    headerAssumption(file, settings, headerM),
    ground.kind === 'equal' ? { code: 'weighedEqually', details: { file } } : null,
    input.timeS === null ? { code: 'evenIntervalAssumed', details: { file } } : null,
    input.headingDegrees === null && settings.turnDegrees !== null
      ? { code: 'headingFromTrack', details: { file } }
      : null,
    placed.order === null ? null : { code: 'rowsPutInOrder', details: { file } },
    screensWithoutData(input, settings, headerM),
  ];
  return said.filter((entry) => entry !== null);
}

function positionAssumption(file: string, faults: PositionFaults | null): Assumption[] {
  let [repeated, jumped] = [0, 0];
  for (let i = 0; i < (faults?.length ?? 0); i++) {
    if (faults?.[i] === REPEATED) repeated += 1;
    if (faults?.[i] === JUMPED) jumped += 1;
  }
  return repeated + jumped === 0
    ? []
    : [{ code: 'positionsNotTrusted', details: { file, repeated, jumped } }];
}

function ownAssumptions(input: PlacedFile['input'], own: OwnOfFile): Assumption[] {
  const { file, yieldColumn, timeS } = input;
  const { flowShiftS, moistureShiftS, massFactor, factorFrom } = own;
  const isAlike = flowShiftS === moistureShiftS || input.moisturePercent === null;
  const said: (Assumption | null)[] = [
    flowShiftS === 0 && yieldColumn.lagAppliedS === null
      ? { code: 'lagAssumedApplied', details: { file, heading: yieldColumn.heading } }
      : null,
    isAlike && flowShiftS !== 0 && timeS !== null
      ? { code: 'lagShifted', details: { file, shiftLagS: flowShiftS } }
      : null,
    !isAlike && timeS !== null
      ? { code: 'shiftedApart', details: { file, shiftLagS: flowShiftS, shiftMoistureS: moistureShiftS } }
      : null,
    massFactor === 1 ? null : { code: 'calibrated', details: { file, factor: massFactor, from: factorFrom } },
  ];
  return said.filter((entry) => entry !== null);
}

function headerAssumption(file: string, settings: HarvestSettings, headerM: number | null): Assumption {
  if (headerM === null)
    return { code: 'headerUnknown', details: { file, sideMarginM: settings.sideMarginM } };
  const code = settings.headerWidthM === null ? 'headerFromRecordedWidth' : 'headerFromSetting';
  return { code, details: { file, headerM } };
}

function screensWithoutData(
  input: PlacedFile['input'],
  settings: HarvestSettings,
  headerM: number | null,
): Assumption | null {
  const hasSpeed = input.speedMPerS !== null || (input.distanceM !== null && input.timeS !== null);
  const wantsSpeed = [settings.speedMinMPerS, settings.speedMaxMPerS, settings.speedChangePercent].some(
    (limit) => limit !== null,
  );
  const hasWidth = input.widthM !== null && headerM !== null;
  const screens = [
    input.headerDown === null ? 'headerUp' : null,
    wantsSpeed && !hasSpeed ? 'speed' : null,
    settings.widthShareMin !== null && !hasWidth ? 'width' : null,
    input.moisturePercent === null ? 'moisture' : null,
  ].filter((screen) => screen !== null);
  return screens.length === 0 ? null : { code: 'screensWithoutData', details: { file: input.file, screens } };
}
