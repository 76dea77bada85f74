import { localProjection } from '../geometry/local-projection.ts';

/** A zone of the Universal Transverse Mercator grid on WGS 84. */
export interface UtmZone {
  readonly zone: number;
  readonly isSouth: boolean;
  /** "UTM 32N". */
  readonly name: string;
}

const WRITTEN = /utm\D{0,12}?0?(\d{1,2})\s*[-_]?\s*(n|s|north|south)(?![a-z])/i;
/** EPSG codes of zones: WGS 84 north and south, ETRS89 and NAD83 north, which differ from it by a metre or two at most. */
const EPSG = /^(?:epsg:*)?(326|327|258|269)(\d{2})$/i;

/** "UTM 32N", "UTM zone 14 south" or "EPSG:32632"; a letter other than N and S (a latitude band) is not understood. */
export function readUtmZone(text: string): UtmZone | null {
  const written = WRITTEN.exec(text);
  if (written !== null) return utmZone(Number(written[1]), /^s/i.test(written[2] ?? ''));
  const code = EPSG.exec(text.trim());
  return code === null ? null : utmZone(Number(code[2]), code[1] === '327');
}

function utmZone(zone: number, isSouth: boolean): UtmZone | null {
  if (!(zone >= 1 && zone <= 60)) return null;
  return { zone, isSouth, name: `UTM ${zone}${isSouth ? 'S' : 'N'}` };
}

const SCALE = 0.9996;
const FALSE_EASTING_M = 500_000;
const FALSE_NORTHING_SOUTH_M = 10_000_000;
/** A zone is six degrees wide, at most 334 km to either side of its meridian; neighbours borrow a little. */
const EASTING_M = { least: 100_000, most: 900_000 };
const NORTHING_M = { least: 0, most: 10_000_000 };

export function isInZone(eastingM: number, northingM: number): boolean {
  return (
    eastingM >= EASTING_M.least &&
    eastingM <= EASTING_M.most &&
    northingM >= NORTHING_M.least &&
    northingM <= NORTHING_M.most
  );
}

/** Easting and northing in metres to longitude and latitude in degrees; NaN stays NaN. */
export function fromUtm({ zone, isSouth }: UtmZone) {
  const plane = localProjection({ originLongitude: 6 * zone - 183, originLatitude: 0 });
  const falseNorthing = isSouth ? FALSE_NORTHING_SOUTH_M : 0;
  return (eastingM: number, northingM: number): readonly [longitude: number, latitude: number] =>
    plane.toGeographic((eastingM - FALSE_EASTING_M) / SCALE, (northingM - falseNorthing) / SCALE);
}
