/** Of ISO 19162, the second form of well-known text: parameters stand in a conversion, with units of their own or without. */
const PARAMETER = /PARAMETER\s*\[\s*"([^"]{1,120})"\s*,\s*([-+\d.eE]+)\s*(?:,\s*ID\s*\[[^\]]*\]\s*)?\]/gi;
const ANGLES = /latitude|longitude|meridian|azimuth|angle|parallel/i;
const LENGTHS = /false (?:easting|northing)|easting|northing/i;
const DEGREE = 'ANGLEUNIT["degree",0.0174532925199433';

/**
 * Well-known text whose parameters all name their unit, since proj4 takes an angle without one for radians. Where none
 * stands, angles are in the unit of the base system (degrees where that has none either) and lengths in the unit of the coordinates (ISO 19162, 9.3.4 and 9.6, from memory).
 */
export function withUnitsOfParameters(text: string): string {
  if (!/^\s*PROJCRS\s*\[/i.test(text)) return text;
  const ownLength = [...text.matchAll(/LENGTHUNIT\s*\[\s*"[^"]*"\s*,\s*[\d.eE+-]+/gi)].at(-1)?.[0];
  const angle = /ANGLEUNIT\s*\[\s*"[^"]*"\s*,\s*[\d.eE+-]+/i.exec(text)?.[0] ?? DEGREE;
  return text.replace(PARAMETER, (whole, name: string, value: string) => {
    if (LENGTHS.test(name)) {
      return ownLength === undefined ? whole : `PARAMETER["${name}",${value},${ownLength}]]`;
    }
    return ANGLES.test(name) ? `PARAMETER["${name}",${value},${angle}]]` : whole;
  });
}
