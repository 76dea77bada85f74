import { zipSync } from 'fflate';
import { asBytes } from './as-bytes.ts';

type Ring = readonly (readonly [number, number])[];

export interface ShapeRecord {
  readonly rings?: readonly Ring[];
  readonly point?: readonly [number, number];
  readonly attributes: Readonly<Record<string, string | number>>;
}

/**
 * The main file of a shapefile, written from the field tables of the ESRI Shapefile Technical Description (white
 * paper, July 1998): header of 100 bytes (table 1), record headers (table 2), Point (page 6), Polygon (page 8).
 */
export function shpFile(records: readonly ShapeRecord[], zero = false): Uint8Array {
  const isPoint = records[0]?.point !== undefined;
  const contents = records.map((record) =>
    isPoint ? pointContent(record.point ?? [0, 0]) : polygonContent(record.rings ?? []),
  );
  const length = 100 + contents.reduce((sum, bytes) => sum + 8 + bytes.length, 0);
  const file = new Uint8Array(length);
  const view = new DataView(file.buffer);
  view.setInt32(0, 9994);
  view.setInt32(24, length / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, zero ? 0 : isPoint ? 1 : 5, true);
  let at = 100;
  for (const [index, bytes] of contents.entries()) {
    view.setInt32(at, index + 1);
    view.setInt32(at + 4, bytes.length / 2);
    file.set(bytes, at + 8);
    at += 8 + bytes.length;
  }
  return file;
}

function pointContent([x, y]: readonly [number, number]): Uint8Array {
  const view = new DataView(new ArrayBuffer(20));
  view.setInt32(0, 1, true);
  view.setFloat64(4, x, true);
  view.setFloat64(12, y, true);
  return new Uint8Array(view.buffer);
}

function polygonContent(rings: readonly Ring[]): Uint8Array {
  const points = rings.flat();
  const view = new DataView(new ArrayBuffer(44 + 4 * rings.length + 16 * points.length));
  view.setInt32(0, 5, true);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].forEach((v, i) => {
    view.setFloat64(4 + 8 * i, v, true);
  });
  view.setInt32(36, rings.length, true);
  view.setInt32(40, points.length, true);
  let start = 0;
  for (const [index, ring] of rings.entries()) {
    view.setInt32(44 + 4 * index, start, true);
    start += ring.length;
  }
  points.forEach(([x, y], index) => {
    view.setFloat64(44 + 4 * rings.length + 16 * index, x, true);
    view.setFloat64(52 + 4 * rings.length + 16 * index, y, true);
  });
  return new Uint8Array(view.buffer);
}

const FIELD_WIDTH = 24;

/** A dBASE III table (version byte 03, header, field descriptors of 32 bytes, 0D, records with a leading blank). */
export function dbfFile(
  records: readonly ShapeRecord[],
  encode: (text: string) => Uint8Array = asBytes,
): Uint8Array {
  const names = Object.keys(records[0]?.attributes ?? {});
  const headerBytes = 33 + 32 * names.length;
  const recordBytes = 1 + FIELD_WIDTH * names.length;
  const file = new Uint8Array(headerBytes + recordBytes * records.length + 1).fill(32);
  file.fill(0, 0, headerBytes);
  const view = new DataView(file.buffer);
  view.setUint8(0, 3);
  view.setUint32(4, records.length, true);
  view.setUint16(8, headerBytes, true);
  view.setUint16(10, recordBytes, true);
  names.forEach((name, index) => {
    const at = 32 + 32 * index;
    file.set(encode(name).subarray(0, 10), at);
    view.setUint8(at + 11, typeof records[0]?.attributes[name] === 'number' ? 78 : 67);
    view.setUint8(at + 16, FIELD_WIDTH);
  });
  view.setUint8(headerBytes - 1, 0x0d);
  records.forEach(({ attributes }, row) => {
    names.forEach((name, index) => {
      const bytes = encode(String(attributes[name])).subarray(0, FIELD_WIDTH);
      file.set(bytes, headerBytes + row * recordBytes + 1 + FIELD_WIDTH * index);
    });
  });
  view.setUint8(file.length - 1, 0x1a);
  return file;
}

/** A zone in the older well-known text, which most .prj files hold; from memory. */
export const UTM_32N_PRJ =
  'PROJCS["WGS_1984_UTM_Zone_32N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",9.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
export const WGS84_PRJ =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

export interface LoggedDdi {
  /** Four hexadecimal digits. */
  readonly ddi: string;
  readonly device?: string;
}

export interface MadeRecord {
  readonly second: number;
  readonly longitude: number;
  readonly latitude: number;
  readonly status?: number;
  /** Of the receiver, in ms of the day of the log; in all records or in none. */
  readonly utcMs?: number;
  /** By index of the logged quantity, raw integers. */
  readonly values: Readonly<Record<number, number>>;
}

/**
 * ISO 11783-10 task data with one task and one time log, from the standard's own definitions: TASKDATA.XML with TSK
 * and TLG, the log's header TIM/PTN/DLV with empty attributes for what stands in the binary file, and records of
 * time of day in ms (uint32), days since 1980 (uint16), north and east in 1e-7 degrees (int32), position status
 * (uint8), the receiver's UTC in ms (uint32) and days (uint16) where asked for, count of values (uint8), then index (uint8) and value (int32) of each; all little-endian.
 */
export function taskDataFiles(
  logged: readonly LoggedDdi[],
  records: readonly MadeRecord[],
  { described = '', inTask = '' }: { readonly described?: string; readonly inTask?: string } = {},
) {
  const utc = records.some(({ utcMs }) => utcMs !== undefined) ? ' H="" I=""' : '';
  const dlv = logged.map(({ ddi, device = 'DET-1' }) => `<DLV A="${ddi}" B="" C="${device}"/>`).join('');
  return {
    'TASKDATA/TASKDATA.XML': asBytes(
      `<?xml version="1.0" encoding="UTF-8"?><ISO11783_TaskData VersionMajor="3" VersionMinor="3" ManagementSoftwareManufacturer="none" ManagementSoftwareVersion="1" DataTransferOrigin="2">${described}<TSK A="TSK1" B="Harvest" G="4">${inTask}<TLG A="TLG00001" C="1"/></TSK></ISO11783_TaskData>`,
    ),
    'TASKDATA/TLG00001.XML': asBytes(
      `<?xml version="1.0" encoding="UTF-8"?><TIM A="" D="4"><PTN A="" B="" D=""${utc}/>${dlv}</TIM>`,
    ),
    'TASKDATA/TLG00001.BIN': binaryLog(records),
  };
}

/** 1 September 2024 in days since 1 January 1980. */
const DAYS = (Date.UTC(2024, 8, 1) - Date.UTC(1980, 0, 1)) / 86_400_000;

function binaryLog(records: readonly MadeRecord[]): Uint8Array {
  const length = records.reduce((sum, { values }) => sum + 22 + 5 * Object.keys(values).length, 0);
  const view = new DataView(new ArrayBuffer(length));
  let at = 0;
  for (const { second, longitude, latitude, status = 1, utcMs, values } of records) {
    view.setUint32(at, 36_000_000 + second * 1000, true);
    view.setUint16(at + 4, DAYS, true);
    view.setInt32(at + 6, Math.round(latitude * 1e7), true);
    view.setInt32(at + 10, Math.round(longitude * 1e7), true);
    view.setUint8(at + 14, status);
    const entries = Object.entries(values);
    if (utcMs !== undefined) {
      view.setUint32(at + 15, utcMs, true);
      view.setUint16(at + 19, DAYS, true);
      at += 6;
    }
    view.setUint8(at + 15, entries.length);
    at += 16;
    for (const [index, value] of entries) {
      view.setUint8(at, Number(index));
      view.setInt32(at + 1, value, true);
      at += 5;
    }
  }
  return new Uint8Array(view.buffer, 0, at);
}

export function zipped(files: Readonly<Record<string, Uint8Array>>, level: 0 | 6 = 6): Uint8Array {
  return zipSync({ ...files }, { level });
}

export function source(
  name: string,
  bytes: Uint8Array | string,
  beside: Readonly<Record<string, Uint8Array>> = {},
) {
  return {
    name,
    bytes: typeof bytes === 'string' ? asBytes(bytes) : bytes,
    beside: Object.entries(beside).map(([part, content]) => ({ name: part, bytes: content })),
  };
}
