/** What settings are called when a later change of them is told; units as they are kept in the document. */
const WORDS: Readonly<Record<string, string>> = {
  'inference.alpha': 'the significance level',
  'inference.decidedBy': 'the deciding procedure',
  'inference.comparisons': 'which comparisons matter',
  'inference.namedPairs': 'the pairs to compare',
  'inference.marginKgPerHa': 'the margin (kg/ha)',
  'inference.scale': 'the scale of the analysis',
  'inference.trend': 'the trend across the field',
  'inference.followsRate': 'whether treatments are rates',
  'inference.square': 'whether the trial is a Latin square',
  'inference.covariate': 'the covariate',
  'inference.factors': 'the two factors',
  'inference.contrasts': 'the planned contrasts',
  'harvest.endMarginM': 'the ground left out at each end (m)',
  'harvest.sideMarginM': 'the ground left out along each side (m)',
  'harvest.headerWidthM': 'the header width (m)',
  'harvest.shiftLagS': 'the shift of the flow (s)',
  'harvest.speedMinMPerS': 'the slowest speed (m/s)',
  'harvest.speedMaxMPerS': 'the fastest speed (m/s)',
  'harvest.speedChangePercent': 'the greatest change of speed (%)',
  'harvest.turnDegrees': 'how sharp a turn is (degrees)',
  'harvest.turnWithinS': 'within what time a turn is looked for (s)',
  'harvest.widthShareMin': 'the least share of the header cut',
  'harvest.moistureMinPercent': 'the least moisture (%)',
  'harvest.moistureMaxPercent': 'the most moisture (%)',
  'harvest.yieldMinKgPerHa': 'the least yield (kg/ha)',
  'harvest.yieldMaxTimesMedian': 'the most yield (times the median)',
  'harvest.outlierRobustSd': 'how far out a point is odd (robust SD)',
  'harvest.positionScreen': 'whether positions are checked',
  'harvest.exclusions': 'the ground left out by hand',
  'harvest.cutBeforeScreen': 'whether ground cut before is left out',
};

export const SETTINGS_WITH_WORDS: readonly string[] = Object.keys(WORDS);

/** A path without words of its own stands as it is, so that nothing is hidden. */
export function settingWords(path: string): string {
  return WORDS[path] ?? path;
}

/** A later change in one clause. */
export function lateChangeWords(change: {
  readonly path: string;
  readonly before: string;
  readonly now: string;
}): string {
  return `${settingWords(change.path)}: was ${valueWords(change.before)}, is ${valueWords(change.now)}`;
}

/** Values come as JSON text. */
function valueWords(json: string): string {
  if (json === 'null') return 'not set';
  if (json === 'true') return 'yes';
  if (json === 'false') return 'no';
  return json.replaceAll('"', '');
}
