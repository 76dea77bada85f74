import type { TakenLayout } from '../trial/commands.ts';
import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { Block, LayoutFile, Strip } from '../trial/trial-document.ts';
import { treatmentsWithCheck } from './check-names.ts';
import { cornerFeatures } from './corner-features.ts';
import { decodeText } from './decode-text.ts';
import { type DelimitedTable, tableOfText } from './delimited-table.ts';
import { polygonFeatures } from './geojson-polygons.ts';
import { parseJsonText } from './json-text.ts';
import {
  chooseProperties,
  type LayoutProperties,
  type LayoutRole,
  propertyText,
  type RecognisedProperty,
} from './layout-properties.ts';
import { levelsAlike } from './levels-alike.ts';
import { joinedParts, type LaidStrip } from './parts-of-strips.ts';
import { intakeProblem } from './problem-codes.ts';
import { isStripList, listedStrips } from './strip-list.ts';

export interface ReadLayout {
  readonly layout: TakenLayout;
  /** Which property became what. */
  readonly properties: Readonly<Record<LayoutRole, RecognisedProperty | null>>;
  /** All names of properties in the file, in order of appearance. */
  readonly propertyNames: readonly string[];
}

/**
 * A layout of strips: polygons of a GeoJSON file (RFC 7946), or a table of their corners, with the treatment, and
 * where known block, strip and place, among their properties: named by the user or found by meaning.
 */
export function readLayout(
  bytes: Uint8Array,
  file: string,
  properties: LayoutFile['properties'],
): Outcome<ReadLayout> {
  const text = decodeText(bytes, file);
  if (!text.ok) return text;
  const layout = isJson(text.value)
    ? layoutOfJson(text.value, file, properties)
    : layoutOfCorners(text.value, file, properties);
  return { ...layout, problems: [...text.problems, ...layout.problems] };
}

/** The same from the features of GeoJSON, or of another format that was turned into it. */
export function layoutOfFeatures(
  collection: unknown,
  file: string,
  properties: LayoutFile['properties'],
): Outcome<ReadLayout> {
  const polygons = polygonFeatures(collection, file);
  if (!polygons.ok) return polygons;
  const read = layoutOf(polygons.value, file, properties);
  return { ...read, problems: [...polygons.problems, ...read.problems] };
}

/** The same from a table with one row a corner, or from a list of strips without any. */
export function layoutOfTable(
  table: DelimitedTable,
  file: string,
  properties: LayoutFile['properties'],
): Outcome<ReadLayout> {
  if (isStripList(table)) return layoutOfList(table, file, properties);
  const features = cornerFeatures(table, properties);
  if (!features.ok) return features;
  const layout = layoutOfFeatures(features.value, file, properties);
  return { ...layout, problems: [...features.problems, ...layout.problems] };
}

function layoutOfList(
  table: DelimitedTable,
  file: string,
  properties: LayoutFile['properties'],
): Outcome<ReadLayout> {
  const strips = listedStrips(table);
  if (!strips.ok) return strips;
  const layout = layoutOf(strips.value, file, properties);
  return { ...layout, problems: [...strips.problems, ...layout.problems] };
}

/** JSON, or so little of a table that it must have been meant for it. */
function isJson(text: string): boolean {
  return /^\uFEFF?\s*(?:[{[]|$)/.test(text) || !tableOfText(text, null).ok;
}

function layoutOfJson(text: string, file: string, properties: LayoutFile['properties']): Outcome<ReadLayout> {
  const json = parseJsonText(text, file);
  return json.ok ? layoutOfFeatures(json.value, file, properties) : json;
}

function layoutOfCorners(
  text: string,
  file: string,
  properties: LayoutFile['properties'],
): Outcome<ReadLayout> {
  const table = tableOfText(text, file);
  if (!table.ok) return table;
  const layout = layoutOfTable(table.value, file, properties);
  return { ...layout, problems: [...table.problems, ...layout.problems] };
}

function layoutOf(
  features: readonly LaidStrip[],
  file: string,
  named: LayoutFile['properties'],
): Outcome<ReadLayout> {
  const chosen = chooseProperties(features, named, file);
  if (!chosen.ok) return chosen;
  const { roles, propertyNames } = chosen.value;
  const problems: Problem[] = [...chosen.problems];
  const treated = joinedParts(withTreatment(features, roles, file, problems), roles, file, problems);
  const labels = treated.map((feature) => labelsOf(feature, roles));
  problems.push(...blockless(labels, roles, file));
  const ids = stripIds(labels, file, problems);
  problems.push(...repeatedIds(ids, labels, file));
  if (roles.block === null) {
    problems.push(intakeProblem('noBlockProperty', { file }, { properties: propertyNames }));
  }
  const names = labels.map(({ treatment }) => treatment);
  problems.push(...levelsAlike(names, { file, column: roles.treatment?.property ?? null }));
  const treatments = treatmentsWithCheck(names, file, problems);
  if (problems.some(({ severity }) => severity === 'error')) return failure(...problems);
  const layout: TakenLayout = {
    file: { path: file, properties: named },
    treatments,
    blocks: blocksOf(labels),
    strips: labels.map((label, index) => strip(label, ids[index] ?? '')),
  };
  return success({ layout, properties: roles, propertyNames }, problems);
}

type Roles = LayoutProperties['roles'];

interface Labels {
  readonly feature: LaidStrip;
  readonly strip: string | null;
  readonly treatment: string;
  readonly block: string | null;
  readonly place: number | null;
}

function labelsOf(feature: LaidStrip, roles: Roles): Labels {
  const text = (role: LayoutRole) => propertyText(feature, roles[role]?.property ?? null);
  const place = text('place');
  const isNumber = place !== null && Number.isFinite(Number(place));
  return {
    feature,
    strip: text('strip') ?? feature.id,
    treatment: text('treatment') ?? '',
    block: text('block'),
    place: isNumber ? Number(place) : null,
  };
}

/** A border or a headland carries no treatment; it is left out, and said, since it could be a forgotten check. */
function withTreatment(
  features: readonly LaidStrip[],
  roles: Roles,
  file: string,
  problems: Problem[],
): readonly LaidStrip[] {
  const property = roles.treatment?.property ?? null;
  const bare = features.filter((feature) => propertyText(feature, property) === null);
  const [first] = bare;
  if (first !== undefined) {
    const strip = propertyText(first, roles.strip?.property ?? null) ?? first.id;
    const severity = bare.length === features.length ? 'error' : 'warning';
    const details = { feature: first.number, strip, count: bare.length };
    problems.push(intakeProblem('featureWithoutTreatment', { file }, details, severity));
  }
  return features.filter((feature) => !bare.includes(feature));
}

function blockless(labels: readonly Labels[], roles: Roles, file: string): Problem[] {
  if (roles.block === null) return [];
  const bare = labels.filter(({ block }) => block === null);
  const [first] = bare;
  if (first === undefined) return [];
  const details = { feature: first.feature.number, strip: first.strip, count: bare.length };
  return [intakeProblem('featureWithoutBlock', { file, column: roles.block.property }, details)];
}

/** "North-A", and with a number behind where a treatment lies in its block more than once. */
function stripIds(labels: readonly Labels[], file: string, problems: Problem[]): string[] {
  const taken = new Set(labels.flatMap(({ strip: id }) => (id === null ? [] : [id])));
  const made: string[] = [];
  const ids = labels.map(({ strip: id, block, treatment, place }) => {
    if (id !== null) return id;
    const stem = [block, treatment, place].filter((part) => part !== null).join('-');
    let name = stem;
    for (let number = 2; taken.has(name); number += 1) name = `${stem}-${number}`;
    taken.add(name);
    made.push(name);
    return name;
  });
  if (made[0] !== undefined) {
    problems.push(intakeProblem('stripIdsMade', { file }, { count: made.length, example: made[0] }));
  }
  return ids;
}

function repeatedIds(ids: readonly string[], labels: readonly Labels[], file: string): Problem[] {
  const first = new Map<string, number>();
  return ids.flatMap((id, index) => {
    const before = first.get(id);
    if (before === undefined) {
      first.set(id, index);
      return [];
    }
    const number = (at: number) => labels[at]?.feature.number ?? null;
    return [
      intakeProblem(
        'stripIdTwice',
        { file },
        { strip: id, feature: number(before), otherFeature: number(index) },
      ),
    ];
  });
}

function blocksOf(labels: readonly Labels[]): readonly Block[] {
  const names = new Set(labels.flatMap(({ block }) => (block === null ? [] : [block])));
  return [...names].map((name) => ({ id: name, name }));
}

function strip({ treatment, block, place, feature }: Labels, id: string): Strip {
  const passes = 'passes' in feature ? { passes: [...(feature.passes ?? [])] } : {};
  return { id, treatment, block, place, polygon: feature.polygon, ...passes };
}
