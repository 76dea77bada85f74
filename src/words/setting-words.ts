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
  'inference.machineTerm': 'whether the machine is a term of the model',
  'inference.factors': 'the two factors',
  'inference.contrasts': 'the planned contrasts',
  'harvest.endMarginM': 'the ground left out at each end (m)',
  'harvest.sideMarginM': 'the ground left out along each side (m)',
  'harvest.headerWidthM': 'the header width (m)',
  'harvest.shiftLagS': 'the shift of the flow (s)',
  'harvest.shiftMoistureS': 'the shift of the moisture (s)',
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
  'harvest.rateTolerancePercent': 'how far a rate may be off its plan (%)',
  'harvest.exclusions': 'the ground left out by hand',
  'layout.design': 'the design',
  'layout.strips': 'which strips there are',
  'layout.treatment': 'the treatment of strips',
  'layout.block': 'the block of strips',
  'layout.outlines': 'the outlines of strips',
  'layout.row': 'the row of strips',
  'layout.column': 'the column of strips',
  'layout.covariate': 'the covariate of strips',
  'layout.factorLevels': 'the levels of treatments',
  'layout.passes': 'the passes of strips',
  'layout.application': 'what is known of the application',
  'harvest.acrossScreen': 'whether yields are held against the passes beside them',
  'harvest.cutBeforeScreen': 'whether ground cut before is left out',
  layoutMove: 'where the layout lies',
};

export const SETTINGS_WITH_WORDS: readonly string[] = Object.keys(WORDS);

/** Of one file; its name follows the path. */
const FILE_WORDS: Readonly<Record<string, string>> = {
  'files.shiftLagS': 'the shift of the flow (s)',
  'files.shiftMoistureS': 'the shift of the moisture (s)',
  'files.calibrationFactor': 'the factor on its masses',
  'files.kgPerBushel': 'what a bushel weighs (kg)',
  'files.machine': 'the machine',
  'files.operator': 'the operator',
  'files.day': 'the day of harvest',
};

/** A path without words of its own stands as it is, so that nothing is hidden. */
export function settingWords(path: string): string {
  const ofFile = Object.keys(FILE_WORDS).find((key) => path.startsWith(`${key}.`));
  if (ofFile === undefined) return WORDS[path] ?? path;
  return `${FILE_WORDS[ofFile]} in ${path.slice(ofFile.length + 1)}`;
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
  return listWords(json) ?? json.replaceAll('"', '');
}

/** A list of texts one after the other; null: it is none. */
function listWords(json: string): string | null {
  if (!json.startsWith('[')) return null;
  const list: unknown = JSON.parse(json);
  if (!Array.isArray(list) || !list.every((entry) => typeof entry === 'string')) return null;
  return list.length === 0 ? 'nothing' : list.join('; ');
}
