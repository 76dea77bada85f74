/**
 * Points sorted into the square cells of a grid, to find the one nearest to a place without looking at all of them. Places
 * in local metres; a point whose place is not known lies in no cell and is never found.
 */
export interface PointGrid {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly westM: number;
  readonly southM: number;
  readonly cellM: number;
  readonly columns: number;
  readonly rows: number;
  /** Of each cell, row by row from the south-west: where its points begin in `order`; one more entry ends the last. */
  readonly first: Uint32Array;
  /** Indices of the points, cell by cell, rising within each. */
  readonly order: Uint32Array;
}

/** Sorts the next so many points; the grid once all are sorted. */
export type SortSome = (points: number) => PointGrid | null;

const POINTS_A_CELL = 4;
const MOST_CELLS_A_SIDE = 4096;
const MOST_LOOKED_AT = 2000;
/** A few positions that jumped far away must not stretch the cells: what lies beyond the edge belongs to the cells along it. */
const END_SHARE = 0.02;

type Shape = Pick<PointGrid, 'westM' | 'southM' | 'cellM' | 'columns' | 'rows'>;

export function pointGrid(eastM: Float64Array, northM: Float64Array): PointGrid {
  const grid = startPointGrid(eastM, northM)(2 * eastM.length);
  if (grid === null) throw new Error(`expected all ${eastM.length} points to be sorted`);
  return grid;
}

/** The same, some points at a time, for a page that must answer in between. Each point is looked at twice. */
export function startPointGrid(eastM: Float64Array, northM: Float64Array): SortSome {
  if (eastM.length !== northM.length)
    throw new RangeError(`expected as many northings as eastings, got ${northM.length} and ${eastM.length}`);
  const count = eastM.length;
  const shape = shapeFor(eastM, northM);
  const first = new Uint32Array(shape.columns * shape.rows + 1);
  const cellOf = (i: number) => cellAt(shape, eastM[i]!, northM[i]!);
  let order = new Uint32Array(0);
  let next = first;
  let done = 0;
  return (more) => {
    const end = Math.min(2 * count, done + more);
    for (; done < Math.min(end, count); done += 1) countPoint(first, cellOf(done));
    if (done === count && end >= count && order.length === 0) {
      sumUp(first);
      order = new Uint32Array(first.at(-1)!);
      next = first.slice();
    }
    for (; done >= count && done < end; done += 1) {
      const cell = cellOf(done - count);
      if (cell >= 0) order[next[cell]!++] = done - count;
    }
    return done === 2 * count ? { eastM, northM, ...shape, first, order } : null;
  };
}

/** Index of the point nearest to a place, within a distance; the later of two as near; -1 where none is that near. */
export function nearestInGrid(
  grid: PointGrid,
  eastM: number,
  northM: number,
  withinM: number,
  isWanted: (index: number) => boolean,
): number {
  const found = { index: -1, squareM: withinM * withinM };
  const column = columnAt(grid, eastM);
  const row = rowAt(grid, northM);
  const farthest = Math.max(column, grid.columns - 1 - column, row, grid.rows - 1 - row);
  for (let ring = 0; ring <= farthest; ring += 1) {
    // What lies in this ring of cells is at least so far away.
    const leastM = Math.max(0, ring - 1) * grid.cellM;
    if (leastM * leastM > found.squareM) break;
    for (let r = Math.max(0, row - ring); r <= Math.min(grid.rows - 1, row + ring); r += 1) {
      const isEdge = Math.abs(r - row) === ring;
      const step = isEdge ? 1 : Math.max(1, 2 * ring);
      for (let c = column - ring; c <= column + ring; c += step) {
        if (c >= 0 && c < grid.columns) lookInto(grid, r * grid.columns + c, eastM, northM, isWanted, found);
      }
    }
  }
  return found.index;
}

function lookInto(
  { first, order, eastM, northM }: PointGrid,
  cell: number,
  atEastM: number,
  atNorthM: number,
  isWanted: (index: number) => boolean,
  found: { index: number; squareM: number },
): void {
  for (let k = first[cell]!; k < first[cell + 1]!; k += 1) {
    const i = order[k]!;
    const dx = eastM[i]! - atEastM;
    const dy = northM[i]! - atNorthM;
    const squareM = dx * dx + dy * dy;
    if (squareM > found.squareM || (squareM === found.squareM && i < found.index) || !isWanted(i)) continue;
    found.squareM = squareM;
    found.index = i;
  }
}

function shapeFor(eastM: Float64Array, northM: Float64Array): Shape {
  const [westM, widthM] = middleExtent(eastM);
  const [southM, heightM] = middleExtent(northM);
  const cells = Math.max(1, eastM.length / POINTS_A_CELL);
  const cellM = Math.max(
    Math.sqrt((widthM * heightM) / cells),
    widthM / MOST_CELLS_A_SIDE,
    heightM / MOST_CELLS_A_SIDE,
  );
  const side = (lengthM: number) => (cellM > 0 ? Math.max(1, Math.ceil(lengthM / cellM)) : 1);
  return { westM, southM, cellM: cellM > 0 ? cellM : 1, columns: side(widthM), rows: side(heightM) };
}

/** Where all but the outermost begin, and how far they reach. */
function middleExtent(values: Float64Array): readonly [from: number, lengthM: number] {
  const step = Math.max(1, Math.floor(values.length / MOST_LOOKED_AT));
  const looked: number[] = [];
  for (let i = 0; i < values.length; i += step) if (Number.isFinite(values[i])) looked.push(values[i]!);
  const sorted = Float64Array.from(looked).sort();
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? 0;
  return [at(END_SHARE), at(1 - END_SHARE) - at(END_SHARE)];
}

function columnAt({ westM, cellM, columns }: Shape, eastM: number): number {
  return Math.min(columns - 1, Math.max(0, Math.floor((eastM - westM) / cellM)));
}

function rowAt({ southM, cellM, rows }: Shape, northM: number): number {
  return Math.min(rows - 1, Math.max(0, Math.floor((northM - southM) / cellM)));
}

/** -1 where the place is not known. */
function cellAt(shape: Shape, eastM: number, northM: number): number {
  if (Number.isNaN(eastM + northM)) return -1;
  return rowAt(shape, northM) * shape.columns + columnAt(shape, eastM);
}

/** Counted one further on, so that the sums are where cells begin. */
function countPoint(first: Uint32Array, cell: number): void {
  if (cell >= 0) first[cell + 1]! += 1;
}

function sumUp(first: Uint32Array): void {
  for (let cell = 1; cell < first.length; cell += 1) first[cell]! += first[cell - 1]!;
}
