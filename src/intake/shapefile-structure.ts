/** What the first pass over a .shp file tells; lengths are checked before any reader trusts them. */
export interface ShapefileStructure {
  readonly shapeType: number;
  readonly records: number;
}

export interface ShapefileFault {
  /** 0: the header of the file. */
  readonly record: number;
  readonly reason: string;
}

const HEADER_BYTES = 100;
const FILE_CODE = 9994;
const MOST_PARTS = 20_000;
const MOST_RECORDS = 3_000_000;
const BYTES_A_POINT = 16;

const POINT_TYPES = [1, 11, 21];
const MULTIPOINT_TYPES = [8, 18, 28];
const PART_TYPES = [3, 13, 23, 5, 15, 25];

/**
 * Walks over the records of a .shp file: file code and shape type, record after record of the length it announces,
 * within each the numbers of parts and points that its length can hold, parts in ascending order.
 *
 * Source: ESRI Shapefile Technical Description, an ESRI white paper, July 1998, pages 3-13.
 */
export function shapefileStructure(shp: Uint8Array): ShapefileStructure | ShapefileFault {
  if (shp.length < HEADER_BYTES) return { record: 0, reason: 'shorter than its header' };
  const view = new DataView(shp.buffer, shp.byteOffset, shp.byteLength);
  const shapeType = view.getInt32(32, true);
  if (view.getInt32(0) !== FILE_CODE) return { record: 0, reason: 'not the file code of a shapefile' };
  if (![...POINT_TYPES, ...MULTIPOINT_TYPES, ...PART_TYPES, 0].includes(shapeType)) {
    return { record: 0, reason: `unknown shape type ${shapeType}` };
  }
  let records = 0;
  for (let at = HEADER_BYTES; at < shp.length; records += 1) {
    const reason = records >= MOST_RECORDS ? 'too many records' : recordFault(view, at, shapeType);
    if (reason !== null) return { record: records + 1, reason };
    at += 8 + 2 * view.getInt32(at + 4);
  }
  return { shapeType, records };
}

function recordFault(view: DataView, at: number, shapeType: number): string | null {
  if (at + 12 > view.byteLength) return 'cut off';
  const length = 2 * view.getInt32(at + 4);
  if (length < 4 || at + 8 + length > view.byteLength) return 'cut off';
  const type = view.getInt32(at + 8, true);
  if (type === 0) return null;
  if (type !== shapeType) return `shape type ${type} among shapes of type ${shapeType}`;
  if (POINT_TYPES.includes(type)) return length >= 20 ? null : 'too short for a point';
  if (length < 40) return 'too short for its shape';
  const isParts = PART_TYPES.includes(type);
  if (isParts && length < 44) return 'too short for its shape';
  const points = view.getInt32(at + 8 + (isParts ? 40 : 36), true);
  const parts = isParts ? view.getInt32(at + 8 + 36, true) : 0;
  const needed = (isParts ? 44 : 40) + 4 * parts + BYTES_A_POINT * points;
  if (parts < 0 || points < 0 || parts > MOST_PARTS || needed > length)
    return 'numbers of parts and points beyond its length';
  return partsAscend(view, at + 8 + 44, parts, points) ? null : 'parts out of order';
}

function partsAscend(view: DataView, at: number, parts: number, points: number): boolean {
  let before = -1;
  for (let part = 0; part < parts; part += 1) {
    const start = view.getInt32(at + 4 * part, true);
    if (start <= before || start >= points) return false;
    before = start;
  }
  return true;
}
