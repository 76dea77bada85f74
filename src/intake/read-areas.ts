import type { ExclusionArea, ExclusionReason } from '../trial/exclusion-area.ts';
import { after, failure, type Outcome, success } from '../trial/problem.ts';
import { decodeText } from './decode-text.ts';
import { wholeOf } from './file-bytes.ts';
import { contentsOf } from './file-contents.ts';
import { type LayoutFeature, polygonFeatures } from './geojson-polygons.ts';
import { parseJsonText, startsLikeJson } from './json-text.ts';
import { kmlFeatures } from './kml-features.ts';
import { propertyText } from './layout-properties.ts';
import { intakeProblem } from './problem-codes.ts';
import { shapefileFeatures } from './shapefile-features.ts';
import type { SourceFile } from './source-file.ts';

/** An area of a file, before the trial gave it a number of its own; `strip` is as written. */
export interface AreaOfFile extends Omit<ExclusionArea, 'id'> {
  /** Number of the feature in the file, counted from 1. */
  readonly feature: number;
  readonly propertyNames: readonly string[];
}

/**
 * Areas to be left out, from the polygons of GeoJSON, KML, KMZ or a shapefile. A property named by its meaning says what
 * is there (wet hole, waterway, lodging, hail, tree line; else another kind, with its words kept as the note), one that it
 * is cut from a single strip, and one why. Without a strip it is cut from every strip of the blocks that it touches.
 */
export async function readAreas(source: SourceFile): Promise<Outcome<readonly AreaOfFile[]>> {
  const features = await featuresOf(source);
  return after(
    after(features, (collection) => polygonFeatures(collection, source.name)),
    (polygons) => {
      const areas = polygons.map(areaOf);
      const others = areas.filter(({ kindText, area }) => area.reason === 'other' && !saysOther(kindText));
      const [first] = others;
      const details = {
        count: others.length,
        first: first?.area.feature ?? 0,
        kind: first?.kindText ?? null,
      };
      const problems =
        first === undefined ? [] : [intakeProblem('areaKindNotKnown', { file: source.name }, details)];
      return success(
        areas.map(({ area }) => area),
        problems,
      );
    },
  );
}

async function featuresOf(source: SourceFile): Promise<Outcome<unknown>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  const { name: file } = source;
  if (value.form === 'kml') return kmlFeatures(value.text, file);
  if (value.form === 'shapefile') return shapefileFeatures(value.parts);
  if (value.form !== 'text' || !startsLikeJson(value.bytes))
    return failure(intakeProblem('noAreasInFile', { file }, {}));
  return after(decodeText(wholeOf(value.bytes), file), (text) => parseJsonText(text, file));
}

const NAMED = {
  kind: ['kind', 'type', 'what', 'class', 'category', 'cause', 'art', 'grund', 'ursache', 'tipo', 'cause'],
  why: [
    'why',
    'reason',
    'note',
    'notes',
    'comment',
    'comments',
    'remark',
    'description',
    'desc',
    'bemerkung',
  ],
  strip: ['strip', 'plot', 'streifen', 'parzelle', 'bande', 'franja', 'faixa'],
  name: ['name', 'label', 'title'],
} as const;

/** Words by which people name what is there; the first kind with one of them is taken. */
const KIND_WORDS: readonly (readonly [ExclusionReason, readonly string[]])[] = [
  ['waterway', ['waterway', 'ditch', 'drain', 'drainage', 'gully', 'creek', 'graben', 'cours', 'zanja']],
  [
    'wetHole',
    ['wet', 'hole', 'pond', 'ponding', 'drowned', 'flooded', 'flood', 'nass', 'nassstelle', 'mouille'],
  ],
  ['lodging', ['lodging', 'lodged', 'lager', 'verse', 'acame', 'encamado']],
  ['hail', ['hail', 'hagel', 'grele', 'granizo']],
  ['treeLine', ['tree', 'trees', 'treeline', 'hedge', 'shade', 'baum', 'hecke', 'arbre', 'arbol']],
];

function areaOf({ number, properties, polygon }: LayoutFeature): {
  readonly area: AreaOfFile;
  readonly kindText: string | null;
} {
  const propertyNames = Object.keys(properties);
  const textOf = (words: readonly string[]) => {
    const named = propertyNames.filter((name) => wordsOf(name).some((word) => words.includes(word)));
    return named.map((name) => propertyText({ properties }, name)).find((text) => text !== null) ?? null;
  };
  const [kind, why, name, strip] = [
    textOf(NAMED.kind),
    textOf(NAMED.why),
    textOf(NAMED.name),
    textOf(NAMED.strip),
  ];
  // "reason" may hold the kind itself, and a placemark has nothing but its name.
  const kindText =
    [kind, why, name].find((text) => text !== null && kindNamed(text) !== null) ?? kind ?? why ?? name;
  const reason = kindText === null ? null : kindNamed(kindText);
  const note = why ?? (reason === null ? kindText : name) ?? '';
  const area = { reason: reason ?? 'other', note, strip, polygon, feature: number, propertyNames } as const;
  return { area, kindText };
}

function kindNamed(text: string): ExclusionReason | null {
  const words = wordsOf(text);
  return KIND_WORDS.find(([, names]) => words.some((word) => names.includes(word)))?.[0] ?? null;
}

function saysOther(text: string | null): boolean {
  return text !== null && wordsOf(text).some((word) => word === 'other' || word === 'else');
}

/** "wetHole" and "Wet hole" alike, accents taken off. */
function wordsOf(text: string): readonly string[] {
  return text
    .slice(0, 200)
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^\p{L}]+/u);
}
