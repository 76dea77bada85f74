import { quantileSorted } from 'simple-statistics';
import type { FieldPass } from './field-passes.ts';
import { inAxes, type LayoutAxes, type StationedLine } from './layout-fit.ts';
import { medianOf } from './logging-interval.ts';
import type { PlacedFile } from './placed-file.ts';

/** A pass as a straight line in the axes of the layout. */
export interface PassLine extends StationedLine {
  /** Metres across for each metre along. */
  readonly slope: number;
  readonly lengthM: number;
  /** Ground of the pass along the axis, from its first cut to its last. */
  readonly fromM: number;
  readonly toM: number;
}

/** Stations on each pass. */
const STATIONS = 12;

/**
 * The passes as lines, each by least squares of across on along (orthogonal distances differ by less than a millimetre
 * at these slopes), with what each cut for the first time: of a header over ground that an earlier pass cut, the rest.
 * `passes` in the order driven.
 */
export function passLines(
  passes: readonly FieldPass[],
  files: readonly PlacedFile[],
  headers: readonly number[],
  axes: LayoutAxes,
): readonly PassLine[] {
  const fitted = passes.map((pass) => fittedLine(pass, files[pass.fileIndex]!, axes));
  const cut: (FittedLine & { readonly headerM: number })[] = [];
  return fitted.map((line, k): PassLine => {
    const headerM = headers[passes[k]!.fileIndex]!;
    const stepM = (line.toM - line.fromM) / STATIONS;
    const stations = Array.from({ length: STATIONS }, (_, s) => {
      const along = line.fromM + (s + 0.5) * stepM;
      const freshM = freshWidthM(acrossAt(line, along), headerM, along, cut);
      return { at: groundAt(axes, along, acrossAt(line, along)), weightM2: stepM * freshM };
    });
    cut.push({ ...line, headerM });
    return { ...line, headerM, lengthM: line.toM - line.fromM, stations };
  });
}

/** The width that a tenth of the rows reach or pass, as wherever a header is taken from recorded widths; null: none recorded. */
export function headerOfFile({ input }: PlacedFile, givenM: number | null): number | null {
  if (givenM !== null) return givenM;
  const recorded = (input.widthM ?? new Float64Array(0)).filter((width) => width > 0).sort();
  return recorded.length === 0 ? null : quantileSorted(recorded as unknown as number[], 0.9);
}

interface FittedLine {
  readonly slope: number;
  readonly originM: number;
  readonly fromM: number;
  readonly toM: number;
}

function acrossAt({ slope, originM }: FittedLine, alongM: number): number {
  return originM + slope * alongM;
}

function groundAt({ centre, along }: LayoutAxes, alongM: number, acrossM: number): readonly [number, number] {
  return [
    centre[0] + alongM * along[0] + acrossM * along[1],
    centre[1] + alongM * along[1] - acrossM * along[0],
  ];
}

function fittedLine({ spans }: FieldPass, { eastM, northM }: PlacedFile, axes: LayoutAxes): FittedLine {
  const along: number[] = [];
  const across: number[] = [];
  for (const { first, end } of spans) {
    for (let i = first; i < end; i++) {
      const [a, c] = inAxes(axes, [eastM[i]!, northM[i]!]);
      if (Number.isNaN(a + c)) continue;
      along.push(a);
      across.push(c);
    }
  }
  const meanAlong = mean(along);
  const meanAcross = mean(across);
  let [products, squares] = [0, 0];
  along.forEach((a, i) => {
    products += (a - meanAlong) * (across[i]! - meanAcross);
    squares += (a - meanAlong) ** 2;
  });
  const slope = squares > 0 ? products / squares : 0;
  // The first point stands for the ground behind it.
  const steps = Float64Array.from(along.slice(1), (a, i) => Math.abs(a - along[i]!));
  const stepM = medianOf(steps) ?? 0;
  const start = along[0]! + (along.at(-1)! >= along[0]! ? -stepM : stepM);
  return {
    slope,
    originM: meanAcross - slope * meanAlong,
    fromM: along.reduce((least, a) => Math.min(least, a), start),
    toM: along.reduce((most, a) => Math.max(most, a), start),
  };
}

/** Of a header at this place, what no earlier pass went over. */
function freshWidthM(
  acrossM: number,
  headerM: number,
  alongM: number,
  cut: readonly (FittedLine & { readonly headerM: number })[],
): number {
  const [left, right] = [acrossM - headerM / 2, acrossM + headerM / 2];
  const taken = cut
    .filter(({ fromM, toM }) => alongM >= fromM && alongM <= toM)
    .map((line) => {
      const middle = acrossAt(line, alongM);
      return [Math.max(left, middle - line.headerM / 2), Math.min(right, middle + line.headerM / 2)] as const;
    })
    .filter(([from, to]) => to > from)
    .sort((a, b) => a[0] - b[0]);
  let [freshM, reachedM] = [headerM, left];
  for (const [from, to] of taken) {
    freshM -= Math.max(0, to - Math.max(from, reachedM));
    reachedM = Math.max(reachedM, to);
  }
  return Math.max(0, freshM);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
