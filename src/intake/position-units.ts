import type { ColumnChoice } from '../trial/trial-document.ts';
import type { DelimitedTable } from './delimited-table.ts';
import type { HeadingParts } from './heading-parts.ts';
import type { KnownUnit } from './known-units.ts';
import { EASTING_WORDS, NORTHING_WORDS } from './quantity-words.ts';
import type { ColumnRole } from './recognition.ts';
import { isInZone, readUtmZone, type UtmZone } from './utm-zone.ts';

const GRID_WORDS: Readonly<Partial<Record<ColumnRole, readonly string[]>>> = {
  longitude: EASTING_WORDS,
  latitude: NORTHING_WORDS,
};

/** An easting or northing in metres, whose heading says so. */
export function isGridPosition(role: ColumnRole, parts: HeadingParts): boolean {
  const isInMetres = parts.unit === null || parts.unit.name === 'm';
  return isInMetres && parts.words.some((word) => GRID_WORDS[role]?.includes(word));
}

/** A bare "x" or "y", which may hold degrees or metres. */
export function isGridLetter(role: ColumnRole, { words, unit }: HeadingParts): boolean {
  const letter = role === 'longitude' ? 'x' : 'y';
  return words.length === 1 && words[0] === letter && (unit === null || ['m', 'deg'].includes(unit.name));
}

export function canBeGridMetres(role: ColumnRole, value: number): boolean {
  return role === 'longitude' ? isInZone(value, 0) : isInZone(500_000, value) && value > 90;
}

/**
 * The zone by which a column of eastings or northings is read: as chosen for it or for its sister column
 * (`unit: 'UTM 32N'`), else as its heading says. null: degrees, or no position; 'askZone': metres of a zone unknown.
 */
export function positionUnit(
  role: ColumnRole,
  parts: HeadingParts | undefined,
  chosenUnit: string | null,
  choices: Readonly<Record<string, ColumnChoice>>,
  table: DelimitedTable,
  isGridByValues = false,
): KnownUnit | 'askZone' | null {
  if (parts === undefined || GRID_WORDS[role] === undefined) return null;
  const isGrid = isGridByValues || isGridPosition(role, parts);
  if (chosenUnit !== null && readUtmZone(chosenUnit) === null && !(isGrid && chosenUnit === 'm')) return null;
  const said = [chosenUnit, ...zonesChosen(choices), parts.heading, ...(isGrid ? table.headings : [])];
  const zone = said.flatMap((text) => (text === null ? [] : (readUtmZone(text) ?? [])))[0];
  if (zone !== undefined) return asUnit(zone);
  return isGrid ? 'askZone' : null;
}

function zonesChosen(choices: Readonly<Record<string, ColumnChoice>>): (string | null)[] {
  return ['longitude', 'latitude'].map((role) =>
    Object.hasOwn(choices, role) ? (choices[role]?.unit ?? null) : null,
  );
}

function asUnit({ name }: UtmZone): KnownUnit {
  return { name, quantity: 'angle', factor: 1, inBushels: false };
}
