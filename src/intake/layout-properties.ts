import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import type { LayoutFile } from '../trial/trial-document.ts';
import type { LayoutFeature } from './geojson-polygons.ts';
import { takeHeadingApart } from './heading-parts.ts';
import { intakeProblem } from './problem-codes.ts';
import { LAYOUT_ROLES } from './quantity-words.ts';
import { findHeading } from './recognise-columns.ts';

export type LayoutRole = 'strip' | 'treatment' | 'block' | 'place';

type WithProperties = Pick<LayoutFeature, 'properties'>;

export interface RecognisedProperty {
  readonly property: string;
  readonly chosenByUser: boolean;
}

export interface LayoutProperties {
  readonly roles: Readonly<Record<LayoutRole, RecognisedProperty | null>>;
  readonly propertyNames: readonly string[];
}

/** Which property holds what: as named by the user, else the one whose name means it; a tie is a question. */
export function chooseProperties(
  features: readonly WithProperties[],
  named: LayoutFile['properties'],
  file: string,
): Outcome<LayoutProperties> {
  const propertyNames = [...new Set(features.flatMap(({ properties }) => Object.keys(properties)))];
  const problems: Problem[] = [];
  const taken = new Set<string>();
  const roles: Record<LayoutRole, RecognisedProperty | null> = {
    treatment: null,
    block: null,
    strip: null,
    place: null,
  };
  for (const role of ['treatment', 'block', 'strip'] as const) {
    const name = named[role];
    if (name === null) continue;
    const property = propertyNames[findHeading(propertyNames, name) ?? -1];
    if (property === undefined) {
      problems.push(
        intakeProblem('noSuchProperty', { file }, { property: name, role, properties: propertyNames }),
      );
      continue;
    }
    roles[role] = { property, chosenByUser: true };
    taken.add(property);
  }
  for (const role of ['treatment', 'block', 'strip', 'place'] as const) {
    if (roles[role] !== null || (role !== 'place' && named[role] !== null)) continue;
    const candidates = candidatesFor(role, propertyNames, taken, features);
    const [property, second] = candidates;
    for (const candidate of candidates) taken.add(candidate);
    if (second !== undefined)
      problems.push(intakeProblem('askWhichProperty', { file }, { role, candidates }));
    else if (property !== undefined) roles[role] = { property, chosenByUser: false };
  }
  const asked = problems.some(({ details }) => details.role === 'treatment');
  if (roles.treatment === null && !asked) {
    problems.push(intakeProblem('noTreatmentProperty', { file }, { properties: propertyNames }));
  }
  return problems.length > 0 ? failure(...problems) : success({ roles, propertyNames });
}

function candidatesFor(
  role: LayoutRole,
  names: readonly string[],
  taken: ReadonlySet<string>,
  features: readonly WithProperties[],
): string[] {
  const words = LAYOUT_ROLES[role];
  const scored = names.flatMap((name) => {
    if (taken.has(name) || features.every((feature) => propertyText(feature, name) === null)) return [];
    const parts = takeHeadingApart(name).words;
    const rank = words.named.findIndex((list) => parts.some((word) => list.includes(word)));
    if (rank < 0 || parts.some((word) => words.never.includes(word))) return [];
    const strange = parts.filter((w) => !words.named[rank]?.includes(w) && !words.beside.includes(w)).length;
    return [{ name, score: rank * 100 + strange }];
  });
  const least = Math.min(...scored.map(({ score }) => score));
  return scored.filter(({ score }) => score === least).map(({ name }) => name);
}

/** A property as text; numbers become text, blanks and other kinds null. */
export function propertyText(feature: WithProperties, property: string | null): string | null {
  if (property === null || !Object.hasOwn(feature.properties, property)) return null;
  const value = feature.properties[property];
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (typeof value !== 'string' || value.trim() === '') return null;
  return value.trim();
}
