import type { FileBytes } from './file-bytes.ts';

/** A file as it was handed over, with the files that lay beside it: a shapefile is one of several. */
export interface SourceFile {
  readonly name: string;
  readonly bytes: FileBytes;
  readonly beside: readonly FilePart[];
}

export interface FilePart {
  readonly name: string;
  readonly bytes: FileBytes;
}

/** The extensions of the files that belong to a .shp of the same name. */
export const SHAPEFILE_PARTS = ['dbf', 'prj', 'cpg', 'shx'] as const;
const LEFT_ALONE = /\.(?:sbn|sbx|qix|qpj|fbn|fbx|ain|aih|atx|ixs|mxs|shp\.xml)$/i;

/** Files with the parts of shapefiles put beside the .shp that they belong to; other files stand alone. */
export function sourcesOf(files: readonly FilePart[]): readonly SourceFile[] {
  const shapes = new Set(files.filter(({ name }) => isShp(name)).map(({ name }) => stemOf(name)));
  const isPart = ({ name }: FilePart) => !isShp(name) && isPartName(name) && shapes.has(stemOf(name));
  return files
    .filter((file) => !isPart(file))
    .map((file) => ({ ...file, beside: isShp(file.name) ? partsBeside(file.name, files) : [] }));
}

/** One file of several by its name, with what lies beside it. */
export function sourceNamed(name: string, files: readonly FilePart[]): SourceFile | null {
  const file = files.find((candidate) => candidate.name === name);
  return file === undefined ? null : { ...file, beside: isShp(name) ? partsBeside(name, files) : [] };
}

/** The names under which the other parts of a shapefile may lie beside it; none for any other file. */
export function namesBeside(name: string): readonly string[] {
  if (!isShp(name)) return [];
  return SHAPEFILE_PARTS.flatMap((part) => [part, part.toUpperCase()]).map((part) =>
    name.replace(/shp$/i, part),
  );
}

function partsBeside(name: string, files: readonly FilePart[]): readonly FilePart[] {
  return files.filter(
    (file) => !isShp(file.name) && isPartName(file.name) && stemOf(file.name) === stemOf(name),
  );
}

function isShp(name: string): boolean {
  return /\.shp$/i.test(name);
}

function isPartName(name: string): boolean {
  return LEFT_ALONE.test(name) || SHAPEFILE_PARTS.some((part) => name.toLowerCase().endsWith(`.${part}`));
}

/** Without folder and extension. */
function stemOf(name: string): string {
  return name
    .replace(/^.*[\\/]/, '')
    .replace(/\.shp\.xml$|\.[^.]*$/i, '')
    .toLowerCase();
}
