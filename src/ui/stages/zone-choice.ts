import type { RecognisedColumn } from '../../intake/recognition.ts';
import type { Strip } from '../../trial/trial-document.ts';

const ZONES = 60;

/** A column of eastings whose zone nothing tells: the user is asked. */
export function zoneIsOpen(column: RecognisedColumn | null): boolean {
  return column !== null && column.role === 'longitude' && column.readAs === null;
}

/** All zones of the UTM grid; where strips are drawn, theirs and its two neighbours come first. */
export function zonesOffered(strips: readonly Strip[]): readonly string[] {
  const drawn = strips.find(({ polygon }) => polygon !== null)?.polygon ?? null;
  const all = Array.from({ length: ZONES }, (_, k) => [`UTM ${k + 1}N`, `UTM ${k + 1}S`]).flat();
  const [longitude, latitude] = (drawn?.coordinates.flat(3) ?? []) as readonly number[];
  if (longitude === undefined || latitude === undefined) return all;
  const near = zonesNear(longitude, latitude);
  return [...near, ...all.filter((zone) => !near.includes(zone))];
}

/** The zone of a place, then the ones to either side. */
function zonesNear(longitude: number, latitude: number): readonly string[] {
  const own = Math.floor((longitude + 180) / 6) % ZONES;
  const letter = latitude < 0 ? 'S' : 'N';
  return [own, own + 1, own - 1].map((k) => `UTM ${((k + ZONES) % ZONES) + 1}${letter}`);
}
