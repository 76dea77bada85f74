import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { decodeText } from './decode-text.ts';
import { type FileBytes, stretchOf, wholeOf } from './file-bytes.ts';
import { intakeProblem } from './problem-codes.ts';
import type { ShapefileParts } from './shapefile-features.ts';
import type { FilePart, SourceFile } from './source-file.ts';
import { packedPlainly, type UnpackedFile, unpackZip } from './unpack-zip.ts';

/** What a file holds, told by its first bytes and not by its name; an archive is unpacked. */
export type FileContents =
  | { readonly form: 'text'; readonly bytes: FileBytes }
  | { readonly form: 'kml'; readonly text: string }
  | { readonly form: 'shapefile'; readonly parts: ShapefileParts }
  | { readonly form: 'workbook'; readonly bytes: Uint8Array }
  | { readonly form: 'taskData'; readonly bytes: Uint8Array };

const SHP_FILE_CODE = [0, 0, 0x27, 0x0a];
const ZIP = [0x50, 0x4b];

export async function contentsOf(source: SourceFile): Promise<Outcome<FileContents>> {
  const { name, bytes, beside } = source;
  const beginning = stretchOf(bytes, 0, SHP_FILE_CODE.length);
  if (beginsWith(beginning, SHP_FILE_CODE)) return success(shapefile(name, wholeOf(bytes), beside));
  if (beginsWith(beginning, ZIP)) return contentsOfZip(wholeOf(bytes), name);
  if (/\.(?:dbf|shx|cpg|prj)$/i.test(name)) {
    return failure(intakeProblem('shapefilePartAlone', { file: name }, {}));
  }
  return contentsOfText(bytes, name);
}

function beginsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, index) => bytes[index] === byte);
}

function shapefile(name: string, shp: Uint8Array, beside: readonly FilePart[]): FileContents {
  const part = (extension: string) => {
    const found = beside.find((file) => file.name.toLowerCase().endsWith(`.${extension}`));
    return found === undefined ? null : wholeOf(found.bytes);
  };
  const parts = { name, shp, dbf: part('dbf'), prj: part('prj'), cpg: part('cpg') };
  return { form: 'shapefile', parts };
}

const CHARACTERS_LOOKED_AT = 4096;

function contentsOfText(bytes: FileBytes, file: string): Outcome<FileContents> {
  const head = stretchOf(bytes, 0, CHARACTERS_LOOKED_AT);
  const first = head.find((byte) => byte > 32 && byte !== 0xef && byte !== 0xbb && byte !== 0xbf);
  const isWide = head[0] === 0xff || head[0] === 0xfe || head.includes(0);
  if (first !== 0x3c && !isWide) return success({ form: 'text', bytes });
  const decoded = decodeText(wholeOf(bytes), file);
  if (!decoded.ok || !/^\uFEFF?\s*</.test(decoded.value)) return success({ form: 'text', bytes });
  const beginning = decoded.value.slice(0, CHARACTERS_LOOKED_AT);
  if (/<(?:\w+:)?(?:kml|Placemark|Folder)\b/.test(beginning)) {
    return success({ form: 'kml', text: decoded.value }, decoded.problems);
  }
  if (/<ISO11783_TaskData\b/.test(beginning)) return failure(intakeProblem('taskDataAlone', { file }, {}));
  return failure(intakeProblem('unknownXml', { file }, { root: rootOf(beginning) }));
}

function rootOf(text: string): string | null {
  return /<([A-Za-z_][\w:.-]{0,60})/.exec(text)?.[1] ?? null;
}

async function contentsOfZip(bytes: Uint8Array, file: string): Promise<Outcome<FileContents>> {
  const unpacked = await unpackZip(bytes, file);
  if (!unpacked.ok) return unpacked;
  const entries = unpacked.value;
  const has = (pattern: RegExp) => entries.some(({ name }) => pattern.test(name));
  if (has(/^xl\/workbook\.xml$/i)) return success({ form: 'workbook', bytes: await packedPlainly(entries) });
  if (has(/(?:^|\/)TASKDATA\.XML$/i)) {
    return success({ form: 'taskData', bytes: await packedPlainly(entries) });
  }
  const shapes = entries.filter(({ name }) => /\.shp$/i.test(name));
  if (shapes.length > 1) return failure(severalInside(shapes, file));
  const [shape] = shapes;
  if (shape !== undefined) return success(shapefile(file, shape.bytes, entries));
  return contentsOfOnlyEntry(entries, file);
}

/** A KMZ is a zip with one KML in it; a single table or GeoJSON may be packed likewise. */
function contentsOfOnlyEntry(entries: readonly UnpackedFile[], file: string): Outcome<FileContents> {
  const maps = entries.filter(({ name }) => /\.kml$/i.test(name));
  const doc = maps.find(({ name }) => /^doc\.kml$/i.test(name));
  const candidates =
    doc !== undefined
      ? [doc]
      : maps.length > 0
        ? maps
        : entries.filter(({ name }) => /\.(?:csv|txt|tsv|geojson|json)$/i.test(name));
  const [only] = candidates;
  if (only === undefined) {
    const names = entries.map(({ name }) => name).slice(0, 20);
    return failure(intakeProblem('zipHoldsNothingKnown', { file }, { names }));
  }
  if (candidates.length > 1) return failure(severalInside(candidates, file));
  return contentsOfText(only.bytes, file);
}

function severalInside(entries: readonly FilePart[], file: string): Problem {
  const names = entries.map(({ name }) => name).slice(0, 20);
  return intakeProblem('severalInZip', { file }, { names, count: entries.length });
}
