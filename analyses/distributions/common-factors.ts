/** Loadings of correlated variables on independent common factors, the rest of each variable being its own. */
export interface CommonFactors {
  /** One row a variable, [first, second]; the first factor carries the most. First loadings sum to at least 0. */
  readonly loadings: readonly (readonly [number, number])[];
  /** Variance of each variable that is its own: 1 less the squares of its loadings, > 0. */
  readonly ownVariance: readonly number[];
  /** The largest difference between a correlation and what the factors make of it. */
  readonly largestResidual: number;
}

type Row = readonly [number, number];

/** No variable is left with less variance of its own: without any, the conditional distribution has a jump. */
const LEAST_OWN_VARIANCE = 0.1;
const MOST_SWEEPS = 3000;
/** Enough to leave a start near no other fit. */
const START_STEPS = 30;
/** Stop when a sweep changes no loading by more. */
const SETTLED = 1e-14;
/** Residuals no larger are rounding: one factor is enough. */
const ONE_IS_ENOUGH = 1e-12;

/**
 * Fits one or two common factors to a correlation matrix, by least squares on the correlations alone (not the diagonal).
 *
 * Differences of treatments from one check share the check (first factor) and, where strips are lost or a covariate
 * enters, what was adjusted for (second factor); so up to five comparisons two factors carry any such matrix but for
 * rare ones, and beyond they come near it. What is left is told, never hidden.
 *
 * @param correlation - k x k, symmetric, ones on the diagonal
 * Source: H. H. Harman & W. H. Jones (1966) Psychometrika 31:351-368 (minimum residuals, variable by variable).
 */
export function commonFactors(correlation: readonly (readonly number[])[]): CommonFactors {
  const start = correlation.map((row, i): Row => [Math.sqrt(Math.min(0.9, meanOfOthers(row, i))), 0]);
  const one = settled(correlation, start, 1);
  const residual = residuals(correlation, one);
  if (largest(residual) <= ONE_IS_ENOUGH) return described(correlation, one);
  const second = leadingDirection(residual);
  const withSecond = one.map(([first], i): Row => [first, second[i]!]);
  return described(correlation, alongPrincipalAxes(settled(correlation, withSecond, 2)));
}

/** The direction along which residuals are largest, its square as long as they are; by repeated multiplication. */
function leadingDirection(residual: readonly (readonly number[])[]): number[] {
  const shift = Math.max(...residual.map((row) => row.reduce((sum, value) => sum + Math.abs(value), 0)));
  let direction = residual.map((_, i) => 1 / (i + 2));
  let length = 1;
  for (let step = 0; step < START_STEPS; step++) {
    const own = direction;
    const next = residual.map((row, i) =>
      row.reduce((sum, value, j) => sum + value * own[j]!, shift * own[i]!),
    );
    length = Math.hypot(...next);
    direction = next.map((value) => value / length);
  }
  const scale = Math.sqrt(Math.max(length - shift, shift / residual.length));
  return direction.map((value) => value * scale);
}

function meanOfOthers(row: readonly number[], i: number): number {
  if (row.length === 1) return 0;
  const sum = row.reduce((total, value, j) => (i === j ? total : total + value), 0);
  return Math.max(0.01, sum / (row.length - 1));
}

/** Sweeps over the variables until nothing moves: each takes the loadings that fit its own correlations best. */
function settled(correlation: readonly (readonly number[])[], start: readonly Row[], factors: 1 | 2): Row[] {
  const loadings = [...start];
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let moved = 0;
    for (let i = 0; i < loadings.length; i++) {
      const next = bestRow(correlation[i]!, loadings, i, factors);
      moved = Math.max(moved, Math.abs(next[0] - loadings[i]![0]), Math.abs(next[1] - loadings[i]![1]));
      loadings[i] = next;
    }
    if (moved <= SETTLED) break;
  }
  return loadings;
}

function bestRow(row: readonly number[], loadings: readonly Row[], i: number, factors: 1 | 2): Row {
  let [aa, ab, bb, ay, by] = [0, 0, 0, 0, 0];
  for (let j = 0; j < loadings.length; j++) {
    if (j === i) continue;
    const [a, b] = loadings[j]!;
    aa += a * a;
    ab += a * b;
    bb += b * b;
    ay += a * row[j]!;
    by += b * row[j]!;
  }
  const determinant = aa * bb - ab * ab;
  if (aa === 0) return loadings[i]!;
  if (factors === 1 || determinant <= 1e-12 * aa * aa) return within(ay / aa, loadings[i]![1]);
  return within((bb * ay - ab * by) / determinant, (aa * by - ab * ay) / determinant);
}

/** Shortened where the variable would keep too little of its own. */
function within(first: number, second: number): Row {
  const shared = first * first + second * second;
  if (shared <= 1 - LEAST_OWN_VARIANCE) return [first, second];
  const shrink = Math.sqrt((1 - LEAST_OWN_VARIANCE) / shared);
  return [first * shrink, second * shrink];
}

/** Turns the two factors so that they are uncorrelated over variables, the larger first. */
function alongPrincipalAxes(loadings: readonly Row[]): Row[] {
  let [aa, ab, bb] = [0, 0, 0];
  for (const [a, b] of loadings) {
    aa += a * a;
    ab += a * b;
    bb += b * b;
  }
  const angle = Math.atan2(2 * ab, aa - bb) / 2;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return loadings.map(([a, b]): Row => [c * a + s * b, c * b - s * a]);
}

function described(correlation: readonly (readonly number[])[], loadings: readonly Row[]): CommonFactors {
  const sign = loadings.reduce((sum, [first]) => sum + first, 0) < 0 ? -1 : 1;
  const turned = loadings.map(([a, b]): Row => [sign * a, b]);
  return {
    loadings: turned,
    ownVariance: turned.map(([a, b]) => 1 - a * a - b * b),
    largestResidual: largest(residuals(correlation, turned)),
  };
}

function residuals(correlation: readonly (readonly number[])[], loadings: readonly Row[]): number[][] {
  return correlation.map((row, i) =>
    row.map((rho, j) => {
      const [a, b] = [loadings[i]!, loadings[j]!];
      return i === j ? 0 : rho - a[0] * b[0] - a[1] * b[1];
    }),
  );
}

function largest(matrix: readonly (readonly number[])[]): number {
  return matrix.reduce((most, row) => row.reduce((own, value) => Math.max(own, Math.abs(value)), most), 0);
}
