/**
 * Faults put into the code on purpose, each of a kind that would change an answer without a sign. The tests named
 * must fail on each; one that they let live is a gap in the tests.
 */
export interface Mutant {
  readonly file: string;
  /** Stands exactly once in the file. */
  readonly find: string;
  readonly replace: string;
  readonly fault: string;
  /** Folders or files of tests that should see it. */
  readonly tests: readonly string[];
}

const HARVEST = ['tests/harvest', 'tests/pipeline', 'tests/simulator'];
const GEOMETRY = ['tests/geometry', 'tests/harvest'];
const INTAKE = ['tests/intake'];
const ANALYSES = ['tests/analyses'];
const FINDINGS = ['tests/findings'];

export const MUTANTS: readonly Mutant[] = [
  {
    file: 'src/harvest/strip-ground.ts',
    find: 'Math.max(0, Math.min(settings.sideMarginM, (strip.oriented.widthM - headerM) / 2))',
    replace: 'settings.sideMarginM',
    fault: 'the side margin is not cut down for a header as wide as the strip',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/strip-ground.ts',
    find: '(strip.oriented.widthM - headerM) / 2',
    replace: 'strip.oriented.widthM - headerM',
    fault: 'the side margin may take all that the strip is wider than the header',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/pass-choice.ts',
    find: 'const LEAST_SHARE = 0.9;',
    replace: 'const LEAST_SHARE = 0.8;',
    fault: 'a pass with 0.8 of its footprints in the strip is taken',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/moisture-correction.ts',
    find: '(100 - from) / (100 - correction.standardPercent)',
    replace: 'from / correction.standardPercent',
    fault: 'moisture is corrected by the ratio of moistures',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/strip-sums.ts',
    find: "weighing === 'area' ? file.ground.ground[i]! : 1",
    replace: '1',
    fault: 'a strip has the mean of its points instead of mass over area',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/strip-sums.ts',
    find: 'const wetMass = weight * wetYield(file, yieldKgPerHa, moisture);',
    replace: 'const wetMass = weight;',
    fault: 'moisture is weighted by area instead of wet mass',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/strip-sums.ts',
    find: 'if (reason[i] === 0 || !NOTHING_CUT.includes(reason[i]!)) addCut(total, file, i);',
    replace: 'if (reason[i] === 0) addCut(total, file, i);',
    fault: 'ends and screened stretches are missing from what a scale weighed',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/yield-screens.ts',
    find: '(strip[i] !== strip[i - 1] ||\n        interval',
    replace: '(interval',
    fault: 'outliers are judged across the border of two treatments',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/yield-screens.ts',
    find: 'values[i]! < least ||',
    replace: 'values[i]! <= Math.max(0, least) ||',
    fault: 'true zeros are set aside',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/point-screens.ts',
    find: 'Math.abs(here - speed[i - 1]!) > (speedChangePercent / 100) * speed[i - 1]!',
    replace: 'here - speed[i - 1]! > (speedChangePercent / 100) * speed[i - 1]!',
    fault: 'sudden slowing is not seen',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/point-screens.ts',
    find: 'turns(i, -1) || turns(i, 1)',
    replace: 'turns(i, -1)',
    fault: 'points before a turn stay',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/point-screens.ts',
    find: 'return distanceToEndM(oriented, along - aheadM * lengthM[i]!, across) < endMarginM;',
    replace: 'return false;',
    fault: 'the rear of a footprint may lie in the end margin',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/cut-before.ts',
    find: 'return Math.min(headerM, left + right);',
    replace: 'return Math.min(headerM, left);',
    fault: 'ground that a pass to the right had cut is not seen',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/lag-shift.ts',
    find: 'const wanted = timeS[i]! + lagS;',
    replace: 'const wanted = timeS[i]! - lagS;',
    fault: 'the lag is moved the wrong way',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/set-aside-balance.ts',
    find: 'p >= WORTH_SAYING_P',
    replace: 'p >= 0.01',
    fault: 'what screens took by treatment is said at p < 0.01 only',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/excluded-ground.ts',
    find: 'if (strip.block === block) fromBlock[other]!.push(stretch);',
    replace: 'if (strip.block === block && other === index) fromBlock[other]!.push(stretch);',
    fault: 'an area is cut from the strip it lies on alone, not from its block',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/scale-weights.ts',
    find: "return new Set(treatments).size === 1 ? 'sumOfTreatment' : 'level';",
    replace: "return 'sumOfTreatment';",
    fault: 'a load over several treatments is shared out among them',
    tests: HARVEST,
  },
  {
    file: 'src/harvest/outliers-across.ts',
    find: 'other !== p && ',
    replace: '',
    fault: 'a pass is judged by its own points too',
    tests: HARVEST,
  },
  {
    file: 'src/geometry/local-projection.ts',
    find: '(5 / 16) * N ** 3',
    replace: '(5 / 18) * N ** 3',
    fault: "a wrong coefficient in the projection's series far from the origin",
    tests: GEOMETRY,
  },
  {
    file: 'src/geometry/meridian-series.ts',
    find: 'const DEGREE = 8;',
    replace: 'const DEGREE = 5;',
    fault: 'the series near the origin is too short',
    tests: GEOMETRY,
  },
  {
    file: 'src/trial/units.ts',
    find: 'export const HA_PER_ACRE = 0.40468564224;',
    replace: 'export const HA_PER_ACRE = 0.4046872609874252;',
    fault: 'the survey foot in the acre',
    tests: ['tests/trial', ...INTAKE],
  },
  {
    file: 'src/intake/unpack-zip.ts',
    find: 'if (inflated > MOST_INFLATED_BYTES) throw new TooLarge();',
    replace: '',
    fault: 'a zip bomb is inflated',
    tests: INTAKE,
  },
  {
    file: 'src/intake/line-scanner.ts',
    find: 'if (endsWithFile && this.short.count === 0 && this.count > 0) {',
    replace: 'if (endsWithFile && this.count < 0) {',
    fault: 'a last line that was cut off is read as data',
    tests: INTAKE,
  },
  {
    file: 'src/intake/quick-number.ts',
    find: 'return isNegative ? -value : value;',
    replace: 'return value;',
    fault: 'long files lose their minus signs',
    tests: INTAKE,
  },
  {
    file: 'analyses/paired-t.ts',
    find: 'const half = tUpperQuantile(alpha / 2, df) * standardError;',
    replace: 'const half = tUpperQuantile(alpha, df) * standardError;',
    fault: 'a one-sided interval passes for a two-sided one',
    tests: ANALYSES,
  },
  {
    file: 'analyses/fisher-lsd.ts',
    find: 'const critical = tUpperQuantile(alpha / 2, df);',
    replace: 'const critical = tUpperQuantile(alpha / 2, df + 1);',
    fault: 'one degree of freedom too many in the LSD',
    tests: ANALYSES,
  },
  {
    file: 'analyses/holm.ts',
    find: 'least = Math.max(least, Math.min(1, (ps.length - rank) * ps[i]!));',
    replace: 'least = Math.min(1, (ps.length - rank) * ps[i]!);',
    fault: "Holm's p values do not rise",
    tests: ANALYSES,
  },
  {
    file: 'analyses/satterthwaite.ts',
    find: 'part ** 2 / errors[i]!.df',
    replace: 'part / errors[i]!.df',
    fault: "Satterthwaite's df from parts that are not squared",
    tests: ANALYSES,
  },
  {
    file: 'src/findings/verdicts.ts',
    find: 'equivalence.upper < margin;',
    replace: 'true;',
    fault: 'called the same although the interval passes the margin above',
    tests: FINDINGS,
  },
  {
    file: 'src/findings/verdicts.ts',
    find: "if (lower > breakEven) return 'Pays';",
    replace: "if (upper > breakEven) return 'Pays';",
    fault: 'said to pay where only the best case does',
    tests: FINDINGS,
  },
  {
    file: 'analyses/balanced-arrangement.ts',
    find: '(a + b) % 3',
    replace: 'a',
    fault: 'the third setting of three levels goes with the first',
    tests: ['tests/analyses/balanced-arrangement.test.ts'],
  },
  {
    file: 'analyses/comparable-levels.ts',
    find: '=== rank - 1',
    replace: '<= rank',
    fault: 'levels that cannot be told apart are called comparable',
    tests: ['tests/analyses/comparable-levels.test.ts'],
  },
  {
    file: 'analyses/split-plot-strata.ts',
    find: 'plots.length === subFactor.levelCount && levels.size',
    replace: 'levels.size <= subFactor.levelCount && levels.size > 0 && subFactor.levelCount',
    fault: 'main plots that lost a sub-plot count like whole ones',
    tests: ['tests/analyses/split-plot-strata.test.ts'],
  },
  {
    file: 'src/harvest/harvest-variants.ts',
    find: "width: ['widthShareMin', 'cutBeforeScreen'],",
    replace: "width: ['widthShareMin'],",
    fault: 'ground cut before is kept from another cleaning',
    tests: ['tests/harvest/harvest-variants.test.ts'],
  },
  {
    file: 'src/harvest/harvest-variants.ts',
    find: "sideMargin: ['sideMarginM'],",
    replace: 'sideMargin: [],',
    fault: 'the side margin is kept from another cleaning',
    tests: ['tests/harvest/harvest-variants.test.ts'],
  },
  {
    file: 'src/harvest/hand-tables.ts',
    find: 'Math.abs(a - b) > SAME_VALUE',
    replace: 'Math.abs(a - b) > 1',
    fault: 'tables that contradict are put together',
    tests: ['tests/harvest/hand-tables.test.ts'],
  },
  {
    file: 'src/harvest/means-by-mass.ts',
    find: 'massKg / sum((sample) => sample.massKg / sample.value)',
    replace: 'sum((sample) => sample.value * sample.massKg) / massKg',
    fault: 'test weight is averaged by mass, not by volume',
    tests: ['tests/harvest/hand-tables.test.ts'],
  },
  {
    file: 'src/trial/stamped-outlines.ts',
    find: '<= SAME_DEGREES',
    replace: '<= 1',
    fault: 'a layout replaced after harvest was seen is not told',
    tests: ['tests/trial/stamped-parts.test.ts'],
  },
];
