import { type MeridianSeries, meridianSeries } from './meridian-series.ts';

/**
 * Where on a plane in metres does a position of longitude and latitude lie?
 *
 * Transverse Mercator on the WGS 84 ellipsoid by Krüger's series to order n⁴, true to scale along the meridian of
 * the origin; east and north are counted from the origin. Within 200 km of the origin the truncation is below a
 * micrometre, and within the reach of `meridianSeries` (tens of kilometres), which is then used, below a nanometre; lengths are drawn out by 1 + (east / 9000 km)², so by less than 1e-6 inside a farm.
 *
 * Degrees in, metres out, and back. Positions a quarter turn or more from the origin's meridian have no image on
 * this plane; they come out as NaN.
 *
 * Source: L. Krüger (1912) Konforme Abbildung des Erdellipsoids in der Ebene; series as printed in C. F. F. Karney
 * (2011) J. Geodesy 85:475-485, equations 7-12, 35 and 36.
 */
export interface LocalFrame {
  /** Degrees, WGS 84. */
  readonly originLongitude: number;
  readonly originLatitude: number;
}

/** East and north in metres. */
export type LocalPosition = readonly [eastM: number, northM: number];

export interface GeographicArrays {
  readonly longitude: Float64Array;
  readonly latitude: Float64Array;
}

export interface LocalArrays {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
}

export interface LocalProjection {
  readonly frame: LocalFrame;
  toLocal(longitude: number, latitude: number): LocalPosition;
  /** The same for many positions at once, into the arrays given. */
  placeAll(degrees: GeographicArrays, into: LocalArrays): void;
  toGeographic(eastM: number, northM: number): readonly [longitude: number, latitude: number];
}

const EQUATORIAL_RADIUS_M = 6_378_137;
const FLATTENING = 1 / 298.257223563;
const N = FLATTENING / (2 - FLATTENING);
const ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING);
const ECCENTRICITY = Math.sqrt(ECCENTRICITY_SQUARED);
const RECTIFYING_RADIUS_M = (EQUATORIAL_RADIUS_M / (1 + N)) * (1 + N ** 2 / 4 + N ** 4 / 64);
const RADIANS = Math.PI / 180;

const ALPHA = [
  N / 2 - (2 / 3) * N ** 2 + (5 / 16) * N ** 3 + (41 / 180) * N ** 4,
  (13 / 48) * N ** 2 - (3 / 5) * N ** 3 + (557 / 1440) * N ** 4,
  (61 / 240) * N ** 3 - (103 / 140) * N ** 4,
  (49561 / 161280) * N ** 4,
] as const;

const BETA = [
  N / 2 - (2 / 3) * N ** 2 + (37 / 96) * N ** 3 - (1 / 360) * N ** 4,
  (1 / 48) * N ** 2 + (1 / 15) * N ** 3 - (437 / 1440) * N ** 4,
  (17 / 480) * N ** 3 - (37 / 840) * N ** 4,
  (4397 / 161280) * N ** 4,
] as const;

export function localProjection(frame: LocalFrame): LocalProjection {
  const origin = originOnMeridian(frame);
  const place = { eastM: 0, northM: 0 };
  return {
    frame,
    toLocal: (longitude, latitude) => {
      placeOne(origin, longitude, latitude, place);
      return [place.eastM, place.northM];
    },
    placeAll: ({ longitude, latitude }, { eastM, northM }) => {
      for (let i = 0; i < eastM.length; i++) {
        placeOne(origin, longitude[i]!, latitude[i]!, place);
        eastM[i] = place.eastM;
        northM[i] = place.northM;
      }
    },
    toGeographic: (eastM, northM) => {
      const xi = northM / RECTIFYING_RADIUS_M + origin.chi + origin.added;
      const eta = eastM / RECTIFYING_RADIUS_M;
      addSeries(BETA, xi, eta, ADDED);
      const sinhEta = Math.sinh(eta - ADDED.eta);
      const cosXi = Math.cos(xi - ADDED.xi);
      const tau = Math.sin(xi - ADDED.xi) / Math.hypot(sinhEta, cosXi);
      const latitude = Math.atan(geographicTangent(tau)) / RADIANS;
      return [normalisedTurn(frame.originLongitude + Math.atan2(sinhEta, cosXi) / RADIANS), latitude];
    },
  };
}

/** What a series adds; filled anew by each use, since one is used for every point. */
const ADDED = { xi: 0, eta: 0 };

function placeOne(
  origin: OriginOnMeridian,
  longitude: number,
  latitude: number,
  place: { eastM: number; northM: number },
): void {
  const turn = normalisedTurn(longitude - origin.longitude) * RADIANS;
  if (!(Math.abs(turn) < Math.PI / 2) || !(Math.abs(latitude) <= 90)) {
    place.eastM = Number.NaN;
    place.northM = Number.NaN;
    return;
  }
  if (origin.near.place((latitude - origin.latitude) * RADIANS, turn, place)) return;
  const chiFromOrigin = (latitude - origin.latitude) * RADIANS + conformalGap(latitude) - origin.gap;
  const chi = origin.chi + chiFromOrigin;
  const [sinChi, cosChi, cosTurn] = [Math.sin(chi), Math.cos(chi), Math.cos(turn)];
  // atan2(tan chi, cos turn) less the origin's chi, by the tangent of a difference; small where both are.
  const lessThanOne = 2 * Math.sin(turn / 2) ** 2;
  const opposite = Math.sin(chiFromOrigin) + cosChi * origin.sinChi * lessThanOne;
  const xiFromOrigin = Math.atan2(opposite, cosChi * origin.cosChi * cosTurn + sinChi * origin.sinChi);
  const tangent = (Math.sin(turn) * cosChi) / Math.sqrt(sinChi * sinChi + (cosChi * cosTurn) ** 2);
  const eta = Math.asinh(tangent);
  addSeries(ALPHA, origin.chi + xiFromOrigin, eta, ADDED);
  place.eastM = RECTIFYING_RADIUS_M * (eta + ADDED.eta);
  place.northM = RECTIFYING_RADIUS_M * (xiFromOrigin + ADDED.xi - origin.added);
}

interface OriginOnMeridian {
  readonly longitude: number;
  readonly latitude: number;
  /** Conformal latitude, and what it is above the geographic one; both in radians. */
  readonly chi: number;
  readonly sinChi: number;
  readonly cosChi: number;
  readonly gap: number;
  /** What the series adds to chi to give the origin's own xi. */
  readonly added: number;
  readonly near: MeridianSeries;
}

function originOnMeridian({ originLongitude, originLatitude }: LocalFrame): OriginOnMeridian {
  const gap = conformalGap(originLatitude);
  const chi = originLatitude * RADIANS + gap;
  addSeries(ALPHA, chi, 0, ADDED);
  const onSphere = { chi, sinChi: Math.sin(chi), cosChi: Math.cos(chi), gap, added: ADDED.xi };
  const near = meridianSeries(originLatitude * RADIANS, EQUATORIAL_RADIUS_M, ECCENTRICITY_SQUARED);
  return { longitude: originLongitude, latitude: originLatitude, ...onSphere, near };
}

/**
 * Conformal less geographic latitude, radians. Taken as a small angle of its own, so that north is a sum of small
 * differences: taken as a difference of two distances from the equator, a last bit (in which engines differ) would
 * be a nanometre and show in the areas of narrow strips.
 */
function conformalGap(latitude: number): number {
  const tau = Math.tan(latitude * RADIANS);
  // The square overflows nowhere: at the pole itself the tangent of the nearest double is 1.6e16.
  const secant = Math.sqrt(1 + tau * tau);
  const sigma = Math.sinh(ECCENTRICITY * Math.atanh((ECCENTRICITY * tau) / secant));
  const root = Math.sqrt(1 + sigma * sigma);
  const tangentGap = (tau * sigma * sigma) / (1 + root) - sigma * secant;
  return Math.atan(tangentGap / (1 + tau * (tau + tangentGap)));
}

/** Σ c_j sin 2jξ cosh 2jη and Σ c_j cos 2jξ sinh 2jη: sines of multiples by the recurrence in 2 cos 2(ξ + iη). */
function addSeries(coefficients: readonly number[], xi: number, eta: number, added: typeof ADDED): void {
  const sin = Math.sin(2 * xi);
  const cos = Math.cos(2 * xi);
  const sinh = Math.sinh(2 * eta);
  const cosh = Math.cosh(2 * eta);
  const stepReal = 2 * cos * cosh;
  const stepImaginary = -2 * sin * sinh;
  let beforeReal = 0;
  let beforeImaginary = 0;
  let real = sin * cosh;
  let imaginary = cos * sinh;
  let xiSum = 0;
  let etaSum = 0;
  for (const coefficient of coefficients) {
    xiSum += coefficient * real;
    etaSum += coefficient * imaginary;
    const nextReal = stepReal * real - stepImaginary * imaginary - beforeReal;
    const nextImaginary = stepReal * imaginary + stepImaginary * real - beforeImaginary;
    beforeReal = real;
    beforeImaginary = imaginary;
    real = nextReal;
    imaginary = nextImaginary;
  }
  added.xi = xiSum;
  added.eta = etaSum;
}

/** Tangent of the conformal latitude from that of the geographic one. */
function conformalTangent(tau: number): number {
  const secant = Math.hypot(1, tau);
  const sigma = Math.sinh(ECCENTRICITY * Math.atanh((ECCENTRICITY * tau) / secant));
  return Math.hypot(1, sigma) * tau - sigma * secant;
}

/** The inverse by Newton's method; two steps reach full precision, the third confirms. */
function geographicTangent(conformal: number): number {
  const shrink = 1 - ECCENTRICITY_SQUARED;
  let tau = conformal / shrink;
  for (let step = 0; step < 3; step++) {
    const reached = conformalTangent(tau);
    tau +=
      ((conformal - reached) / Math.hypot(1, reached)) *
      ((1 + shrink * tau ** 2) / (shrink * Math.hypot(1, tau)));
  }
  return tau;
}

function normalisedTurn(degrees: number): number {
  if (degrees >= -180 && degrees < 180) return degrees;
  return degrees - 360 * Math.floor((degrees + 180) / 360);
}
