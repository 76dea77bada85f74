/// <reference path="./file-readers.d.ts" />
import { failure, type Outcome, type Problem } from '../trial/problem.ts';
import { decodeText } from './decode-text.ts';
import { intakeProblem } from './problem-codes.ts';
import { projectFeatures } from './projected-features.ts';
import { shapefileStructure } from './shapefile-structure.ts';
import { reasonOf } from './unpack-zip.ts';

/** The files of one shapefile; null: not handed over. */
export interface ShapefileParts {
  readonly name: string;
  readonly shp: Uint8Array;
  readonly dbf: Uint8Array | null;
  readonly prj: Uint8Array | null;
  readonly cpg: Uint8Array | null;
}

export interface FeatureCollection {
  readonly type: 'FeatureCollection';
  readonly features: readonly unknown[];
}

export type ShapefileKind = 'polygons' | 'points' | 'other';

export function shapefileKind({ shp }: ShapefileParts): ShapefileKind {
  const structure = shapefileStructure(shp);
  if ('reason' in structure) return 'other';
  if ([5, 15, 25].includes(structure.shapeType)) return 'polygons';
  return [1, 11, 21, 8, 18, 28].includes(structure.shapeType) ? 'points' : 'other';
}

/**
 * The shapes of a shapefile with the attributes of its .dbf, in degrees of WGS 84 by its .prj. Without a .dbf there
 * are shapes but no names: refused. Without a .prj, coordinates within degrees are taken for degrees, and that is said.
 */
export async function shapefileFeatures(parts: ShapefileParts): Promise<Outcome<FeatureCollection>> {
  const file = parts.name;
  const structure = shapefileStructure(parts.shp);
  if ('reason' in structure) return failure(intakeProblem('shapefileDamaged', { file }, { ...structure }));
  if (structure.records === 0) return failure(intakeProblem('shapefileEmpty', { file }, {}));
  if (parts.dbf === null) return failure(intakeProblem('shapefileWithoutDbf', { file }, {}));
  const fault = dbfFault(parts.dbf, structure.records);
  if (fault !== null) return failure(intakeProblem('dbfDamaged', { file }, { reason: fault }));
  const { encoding, problems } = encodingOf(parts.dbf, parts.cpg, file);
  const { read } = await import('shapefile');
  try {
    const { features } = await read(parts.shp, parts.dbf, { encoding });
    const projected = await projectFeatures(features, wellKnownText(parts.prj, file), file);
    return { ...projected, problems: [...problems, ...projected.problems] };
  } catch (error) {
    return failure(intakeProblem('shapefileDamaged', { file }, { record: 0, reason: reasonOf(error) }));
  }
}

function wellKnownText(prj: Uint8Array | null, file: string): string | null {
  if (prj === null) return null;
  const text = decodeText(prj, file);
  return text.ok && text.value.trim() !== '' ? text.value.replace(/\0/g, '').trim() : null;
}

const DBF_HEADER_BYTES = 32;
const KNOWN_FIELDS = 'BCDFLMN';

/** Why a .dbf cannot be read: header, fields or number of records against its length (dBASE III file structure). */
function dbfFault(dbf: Uint8Array, shapes: number): string | null {
  if (dbf.length < DBF_HEADER_BYTES + 1) return 'shorter than its header';
  const view = new DataView(dbf.buffer, dbf.byteOffset, dbf.byteLength);
  const [records, headerBytes, recordBytes] = [
    view.getUint32(4, true),
    view.getUint16(8, true),
    view.getUint16(10, true),
  ];
  if (headerBytes < DBF_HEADER_BYTES + 1 || headerBytes > dbf.length || recordBytes < 1)
    return 'header out of bounds';
  let width = 1;
  let at = DBF_HEADER_BYTES;
  for (; at < headerBytes && dbf[at] !== 0x0d; at += 32) {
    const type = String.fromCharCode(dbf[at + 11] ?? 0);
    if (!KNOWN_FIELDS.includes(type)) return `a field of unknown type ${JSON.stringify(type)}`;
    width += dbf[at + 16] ?? 0;
  }
  if (dbf[at] !== 0x0d) return 'fields without an end';
  if (width > recordBytes) return 'fields wider than a record';
  if (headerBytes + records * recordBytes > dbf.length + 1) return 'cut off';
  return records === shapes ? null : `${records} rows for ${shapes} shapes`;
}

/** By the .cpg, else UTF-8 where every byte fits it, else windows-1252. */
function encodingOf(
  dbf: Uint8Array,
  cpg: Uint8Array | null,
  file: string,
): { encoding: string; problems: Problem[] } {
  const written = cpg === null ? '' : String.fromCharCode(...cpg.subarray(0, 40)).trim();
  const known = encodingLabel(written);
  if (known !== null) return { encoding: known, problems: [] };
  const problems =
    written === ''
      ? []
      : [intakeProblem('encodingNotKnown', { file }, { encoding: written.replace(/[^\x20-\x7e]/g, '?') })];
  const body = dbf.subarray(new DataView(dbf.buffer, dbf.byteOffset).getUint16(8, true));
  const asText = decodeText(
    body.map((byte) => Math.max(byte, 32)),
    file,
  );
  const isUtf8 = asText.ok && asText.problems.length === 0;
  return { encoding: isUtf8 ? 'utf-8' : 'windows-1252', problems };
}

function encodingLabel(written: string): string | null {
  const text = written.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (/^(?:utf8|65001)$/.test(text)) return 'utf-8';
  const windows = /^(?:ansi|cp|windows)?(125\d)$/.exec(text)?.[1];
  if (windows !== undefined) return `windows-${windows}`;
  const iso = /^(?:iso)?8859(\d{1,2})$/.exec(text)?.[1];
  if (iso === undefined) return null;
  return iso === '1'
    ? 'windows-1252'
    : Number(iso) >= 2 && Number(iso) <= 16 && iso !== '12'
      ? `iso-8859-${Number(iso)}`
      : null;
}
