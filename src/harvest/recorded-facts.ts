import type { HarvestPointsInput } from './harvest-input.ts';
import type { PointFacts } from './point-facts.ts';

/** What the files themselves say of one point, counted through all of them; null where there is no such point. */
export function recordedFacts(files: readonly HarvestPointsInput[], point: number): PointFacts | null {
  let first = 0;
  for (const file of files) {
    const row = point - first;
    if (row >= 0 && row < file.count) return factsOfRow(file, row);
    first += file.count;
  }
  return null;
}

function factsOfRow(file: HarvestPointsInput, row: number): PointFacts {
  const recorded = (column: Float64Array | null) => {
    const value = column?.[row] ?? Number.NaN;
    return Number.isFinite(value) ? value : null;
  };
  const timeS = recorded(file.timeS);
  return {
    file: file.file,
    pointOfFile: row + 1,
    pass: null,
    headingDegrees: recorded(file.headingDegrees),
    clockS: timeS === null || file.startS == null ? null : file.startS + timeS,
    timeS,
    speedMPerS: recorded(file.speedMPerS),
    moisturePercent: recorded(file.moisturePercent),
    flowKgPerS: recorded(file.massFlowKgPerS),
    widthM: recorded(file.widthM),
    shareInside: null,
    passShareInside: null,
  };
}
