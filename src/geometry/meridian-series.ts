/**
 * Transverse Mercator near its origin, as two short power series.
 *
 * The projection is conformal and true to scale along the origin's meridian. So north + i east is an analytic function
 * of isometric latitude + i longitude, with the real coefficients that the arc of the meridian has as a function of
 * isometric latitude. Both series, isometric latitude by latitude and arc by isometric latitude, come from their
 * differential equations. Up to `REACH` of the way to the nearest singular point the truncation is below 1e-9 m; a
 * point beyond is not placed.
 *
 * Source: J. P. Snyder (1987) Map Projections - A Working Manual, USGS Professional Paper 1395, chapter 8 and equations
 * 3-21 and 4-22 (radii of curvature); that conformal maps of the ellipsoid are analytic functions of isometric latitude
 * and longitude: C. F. Gauss (1825), as in every textbook.
 */
export interface MeridianSeries {
  /** Radians from the origin in; metres out, into the place given. False, and nothing placed: too far for the series. */
  place(latitudeStep: number, longitudeStep: number, into: { eastM: number; northM: number }): boolean;
}

/** Terms of each series. */
const DEGREE = 8;
/** Share of the way to the nearest singular point: a pole for the first series, a quarter turn for the second. */
const REACH = 0.02;

type Series = readonly number[];

export function meridianSeries(
  latitude: number,
  equatorialRadiusM: number,
  eccentricitySquared: number,
): MeridianSeries {
  const isometric = isometricByLatitude(latitude, eccentricitySquared);
  const arc = arcByIsometric(latitude, equatorialRadiusM, eccentricitySquared);
  const latitudeReach = REACH * (Math.PI / 2 - Math.abs(latitude));
  const reachSquared = (REACH * (Math.PI / 2)) ** 2;
  return {
    place: (latitudeStep, longitudeStep, into) => {
      if (!(Math.abs(latitudeStep) <= latitudeReach)) return false;
      let up = 0;
      for (let k = DEGREE; k > 0; k--) up = (up + isometric[k]!) * latitudeStep;
      if (!(up * up + longitudeStep * longitudeStep <= reachSquared)) return false;
      let north = 0;
      let east = 0;
      for (let k = DEGREE; k > 0; k--) {
        const real = north + arc[k]!;
        north = real * up - east * longitudeStep;
        east = real * longitudeStep + east * up;
      }
      into.eastM = east;
      into.northM = north;
      return true;
    },
  };
}

/** dψ/dφ = (1 - e²) / ((1 - e² sin²φ) cos φ). */
function isometricByLatitude(latitude: number, eccentricitySquared: number): Series {
  const sine = sineSeries(latitude);
  const cosine = sineSeries(latitude + Math.PI / 2);
  const curved = oneLess(eccentricitySquared, product(sine, sine));
  return integral(quotient([1 - eccentricitySquared], product(curved, cosine)));
}

/** dM/dψ = a √((1 - s²) / (1 - e² s²)), where s = sin φ follows ds/dψ = (1 - e² s²)(1 - s²) / (1 - e²). */
function arcByIsometric(latitude: number, equatorialRadiusM: number, eccentricitySquared: number): Series {
  let sine: Series = [Math.sin(latitude)];
  // Each round makes one more term right.
  for (let known = 1; known <= DEGREE; known++) {
    const squared = product(sine, sine);
    const slope = product(oneLess(eccentricitySquared, squared), oneLess(1, squared));
    sine = [sine[0]!, ...integral(slope.map((term) => term / (1 - eccentricitySquared))).slice(1)];
  }
  const squared = product(sine, sine);
  const radius = squareRoot(quotient(oneLess(1, squared), oneLess(eccentricitySquared, squared)));
  return integral(radius.map((term) => term * equatorialRadiusM));
}

function sineSeries(angle: number): Series {
  const derivatives = [Math.sin(angle), Math.cos(angle), -Math.sin(angle), -Math.cos(angle)];
  let factorial = 1;
  return Array.from({ length: DEGREE + 1 }, (_, k) => {
    factorial *= Math.max(1, k);
    return derivatives[k % 4]! / factorial;
  });
}

function oneLess(factor: number, series: Series): Series {
  return series.map((term, k) => (k === 0 ? 1 : 0) - factor * term);
}

function product(a: Series, b: Series): Series {
  return Array.from({ length: DEGREE + 1 }, (_, k) => {
    let sum = 0;
    for (let j = 0; j <= k; j++) sum += (a[j] ?? 0) * (b[k - j] ?? 0);
    return sum;
  });
}

function quotient(a: Series, b: Series): Series {
  const terms: number[] = [];
  for (let k = 0; k <= DEGREE; k++) {
    let rest = a[k] ?? 0;
    for (let j = 1; j <= k; j++) rest -= (b[j] ?? 0) * terms[k - j]!;
    terms.push(rest / b[0]!);
  }
  return terms;
}

function squareRoot(series: Series): Series {
  const terms = [Math.sqrt(series[0]!)];
  for (let k = 1; k <= DEGREE; k++) {
    let rest = series[k]!;
    for (let j = 1; j < k; j++) rest -= terms[j]! * terms[k - j]!;
    terms.push(rest / (2 * terms[0]!));
  }
  return terms;
}

function integral(series: Series): Series {
  return [0, ...series.slice(0, DEGREE).map((term, k) => term / (k + 1))];
}
