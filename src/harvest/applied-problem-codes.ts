/** What logs of an application say about the strips, with the keys of its details. */
export const APPLIED_PROBLEM_CODES = {
  /** warning, file. Names of products in the log that mean no treatment; rows with them are left out of account. */
  askProductMeaning: ['products', 'count'],
  /** note, file. Rows without a product were taken for the only treatment that was to get something. */
  productTakenFor: ['treatment'],
  /** warning, file. Nothing that the log put out lies on a strip. */
  logOnNoStrip: ['distanceKm'],
  /** warning, file. Outlines of areas cross themselves; they are left out. */
  areasCrossThemselves: ['areas', 'count'],
  /** warning. No log holds what these treatments were to get, so their strips are not judged by coverage. */
  noLogOfTreatment: ['treatments'],
  /** warning. The strip got what others were to get (or nothing of its own); the user is asked what to count it as. */
  stripGotAnother: ['strip', 'planned', 'product', 'treatments', 'sharePercent'],
  /** warning. The strip got its product at the rate of another treatment; the user is asked. */
  stripGotAnotherRate: ['strip', 'planned', 'rate', 'unit', 'treatments'],
  /** warning. Strips that got nothing of what was planned. */
  stripsNotCovered: ['strips', 'count'],
  /** warning. Stretches of at least 5 m that got nothing of what was planned, or something else; they are not used. */
  stretchesSkipped: ['strips', 'count', 'totalM', 'mostM'],
  /** warning. Strips partly under another product than theirs. `mostPercent`: of a strip's core. */
  otherProductOnStrips: ['strips', 'count', 'products', 'mostPercent'],
  /** warning. Something was put out on strips that were to get nothing. */
  appliedWithoutPlan: ['strips', 'count', 'products', 'mostPercent'],
  /** warning. The mean rate of strips lies farther from the plan than the limit. */
  rateOffPlan: ['strips', 'count', 'mostPercent', 'limitPercent'],
  /** warning. The log's rates are by mass and the plan's by volume, or the other way round. */
  rateUnitsDiffer: ['treatments', 'logged', 'planned'],
  /** note. A mix was logged part by part, by mass and by volume or each part at the same rate: its own rate is not known. */
  mixRateNotTold: ['treatments'],
  /** warning. Rates miss the plan by far, to one side, on every strip: spray liquid and product, or another unit. */
  rateOfAnotherKind: ['treatments', 'factor'],
  /** warning. No log holds these products of a tank mix, so strips are not judged by them. */
  noLogOfPart: ['treatments', 'products'],
  /** warning. Strips of which more than a tenth lies under two swaths or more. */
  coveredTwice: ['strips', 'count', 'mostPercent'],
  /** warning. Swaths of other products reach over strips by more than the limit. */
  swathsAstray: ['strips', 'count', 'mostPercent', 'limitPercent'],
  /** warning. Ground that did not get what was planned took more from some treatments than from others, by the trial's own design; p is null where it cannot be had. */
  offPlanByTreatment: ['p', 'gapPercent'],
  /** warning. Weights are of whole strips: ground that did not get what was planned is in them. */
  offPlanNotInWeights: ['count'],
  /** note. Outlines as applied stand for those of the plan. */
  appliedPolygonsUsed: ['count', 'meanM', 'mostM'],
} as const satisfies Record<string, readonly string[]>;
