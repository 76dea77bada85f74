import type { AdviceByCode } from './sentence.ts';

/** Problems of application logs, and of what they say about the strips. */
export const APPLICATION_ADVICE: AdviceByCode = {
  askSwath: {
    message:
      'The log has no column with the width of the swath, so it cannot be said how much ground a point stands for (columns: {headings}).',
    whatToDo: 'Say how wide the swath was, or which column holds it.',
  },
  noAppliedRate: {
    message:
      'No column is the rate that was put out (columns: {headings}); coverage is judged, rates are not.',
    whatToDo: 'Say which column is the rate, if there is one.',
  },
  everyRowApplied: {
    message:
      'Neither a rate nor an on/off state tells where nothing was put out, so each of the {rows} rows counts as applied.',
    whatToDo: 'Check that the log was written while spraying alone, or say which column tells it.',
  },
  sprayStateNotRead: {
    message: '"{text}" says neither on nor off ({count} such cells); these rows go by their rate.',
    whatToDo: 'Write on and off, or 1 and 0.',
  },
  rateImpossible: {
    message: 'A rate of {value} is not possible ({count} such rows); it counts as nothing put out.',
    whatToDo: 'Look at the log where this happens, and at the column that is taken for the rate.',
  },
  nothingApplied: {
    message: 'None of the {rows} rows says that anything was put out.',
    whatToDo: 'Check which columns are taken for the rate and for the on/off state.',
  },
  taskDataNotApplied: {
    message:
      'No log of these task data holds a rate or a work state of an application (identifiers logged: {logged}).',
    whatToDo: 'Hand over the task data of the sprayer, spreader or planter, or the log as a table.',
  },
  rateIsSetpoint: {
    message: 'The log holds the rate that was demanded, not the one that was measured.',
    whatToDo: 'Check the calibration of the machine: what was demanded need not be what came out.',
  },
  rateFromFlow: {
    message:
      'The log holds a flow per time; rates are that flow over the width of the swath and the logged speed. {standing} rows stood still and have no rate.',
    whatToDo: 'Check that the flow is that of the whole width, and the speed that over ground.',
  },
  rateFromFlowOnTrack: {
    message:
      'The log holds a flow per time and no speed; rates are that flow over the width of the swath and the speed that follows from places and times. {standing} rows stood still, or lack a neighbour in time, and have no rate.',
    whatToDo: 'Check that the flow is that of the whole width.',
  },
  flowWithoutSpeed: {
    message:
      'The log holds a flow per time, but neither a speed nor times from which one follows: coverage is judged, rates are not.',
    whatToDo: 'Hand over the log with a column of times or of the speed, or with a rate per area.',
  },
  sectionsNotPlaced: {
    message:
      'Parts of the boom were off in {count} records, but the machine’s description does not say where its sections lie; its whole width counts as covered there.',
    whatToDo: 'Look at these places on the field; strips beside them may have got nothing.',
  },
  productNotAllocated: {
    message:
      'The task allocates several products one after the other, and their times do not tell which of them was put out in {count} records; these go without a product.',
    whatToDo: 'Say what rows without a product are, or hand over one task for each product.',
  },
  boomPlaced: {
    message:
      'By the description of the machine the boom lies {behindM} m behind the receiver and {asideM} m to its right; what was put out is laid there.',
    whatToDo: 'Say on the Layout page how far the boom lies behind the logged position if that is not so.',
  },
  boomNotPlaced: {
    message:
      'The description of the machine does not wholly say how far the boom lies behind the receiver; what was put out is laid at the logged positions.',
    whatToDo: 'Say on the Layout page how far the boom lies behind the logged position.',
  },
  allocationClockUnknown: {
    message:
      'The task allocates several products one after the other by times with a time zone (or some with and some without); the clock of the log has none, and its records lack the receiver’s UTC time and date that would tie it to one. Which product was put out is not told in {count} records; these go without a product.',
    whatToDo:
      'Write the times of the allocations by the clock of the log, without a zone; or say what rows without a product are, or hand over one task for each product.',
  },
  taskNamesAsProducts: {
    message: 'No task says which product was put out, so the names of the tasks stand for it.',
    whatToDo: 'Say on the Layout page which treatment each of them is.',
  },
  askProductMeaning: {
    message:
      'The log names products that no treatment is known by ({count}): {products}. Rows with them are left out of account until it is said what they mean.',
    whatToDo: 'Say on the Layout page which treatment each of them is.',
  },
  productTakenFor: {
    message:
      'The log names no product; it was taken for {treatment}, the only treatment that was to get something.',
    whatToDo: 'Say on the Layout page what it was if that is not so.',
  },
  logOnNoStrip: {
    message:
      'Nothing that the log put out lies on a strip; it begins {distanceKm} km from the middle of the trial.',
    whatToDo: 'Check that log and layout are of the same field.',
  },
  areasCrossThemselves: {
    message: 'Areas of the log have outlines that cross themselves ({count}): {areas}; they are left out.',
    whatToDo: 'Mend them in the program that drew them, or hand over the points of the log.',
  },
  noLogOfTreatment: {
    message:
      'No log holds what these treatments were to get: {treatments}. Their strips are used as planned, unseen.',
    whatToDo: 'Add the log of their application, or say which product in a log is theirs.',
  },
  stripGotAnother: {
    message:
      'Strip {strip} was to be {planned}, but {sharePercent} % of it got something else ({product}; planned for: {treatments}). It is not used as it stands.',
    whatToDo:
      'If it is to be counted as what it really got, give the strip that treatment on the Layout page; else leave it out.',
  },
  stripGotAnotherRate: {
    message:
      'Strip {strip} was to be {planned}, but got {rate} {unit}, which is nearer to {treatments}. It is not used as it stands.',
    whatToDo:
      'If it is to be counted as what it really got, give the strip that treatment on the Layout page; else leave it out.',
  },
  stripsNotCovered: {
    message: 'Strips got nothing of what was planned ({count}): {strips}. They are not used.',
    whatToDo:
      'Check that no log is missing; if they were really skipped, they may count as untreated on the Layout page.',
  },
  stretchesSkipped: {
    message:
      'Stretches did not get what was planned, in strips ({count}): {strips}; {totalM} m in all, at most {mostM} m in one strip. They are not used.',
    whatToDo: 'Look at them on the field; if the log is wrong there, take it out.',
  },
  otherProductOnStrips: {
    message:
      'Strips partly got another product than theirs ({count}): {strips}; {products}, on up to {mostPercent} % of a strip. These stretches are not used.',
    whatToDo: 'Look at them on the field, and at what the products of the log were said to mean.',
  },
  appliedWithoutPlan: {
    message:
      'Something was put out on strips that were to get nothing ({count}): {strips}; {products}, on up to {mostPercent} % of a strip.',
    whatToDo:
      'Say so with the answer; stretches that lie under it for more than a tenth of their width are not used.',
  },
  rateOffPlan: {
    message:
      'The mean rate of strips missed the plan by more than {limitPercent} % ({count}): {strips}; by up to {mostPercent} %.',
    whatToDo: 'Say with the answer what they really got, and check the calibration of the sprayer.',
  },
  rateUnitsDiffer: {
    message:
      'The log gives rates in {logged} and the plan in {planned}, so rates are not compared ({treatments}).',
    whatToDo: 'Plan the rate as the log counts it (volume, mass or seeds); one is not turned into the other.',
  },
  mixRateNotTold: {
    message:
      'The tank mix of {treatments} is logged part by part, by mass and by volume or each part at the same rate, so that the rate of the mix is not known and not held against the plan.',
    whatToDo: 'Check the rates of its products in the logs themselves.',
  },
  rateOfAnotherKind: {
    message:
      'On every strip of {treatments} the log’s rate is {factor} times the planned one, so they seem to count different things, such as spray liquid and product; they are not compared.',
    whatToDo: 'Plan the rate as the log counts it, or check the unit of its rate.',
  },
  noLogOfPart: {
    message:
      'No log holds a part of the tank mix of {treatments}: {products}. Their strips are judged by the rest alone.',
    whatToDo: 'Add the log of its application, or say which product in a log holds it.',
  },
  coveredTwice: {
    message:
      'Strips were covered twice on more than a tenth of their ground ({count}): {strips}; on up to {mostPercent} %.',
    whatToDo: 'Look at overlaps and at the width of the swath; a double rate can harm the crop.',
  },
  swathsAstray: {
    message:
      'Swaths of other treatments reach over strips by more than {limitPercent} % of their ground ({count}): {strips}; by up to {mostPercent} %. Their margins keep most of it out of what is used.',
    whatToDo: 'Widen the side margin, or next time leave a buffer between strips; drift itself is in no log.',
  },
  offPlanByTreatment: {
    message:
      'Ground that did not get what was planned took more from some treatments than from others (means differ by {gapPercent} points of percent; {p}), so that what is left may lie on other ground.',
    whatToDo: 'Cut the same stretches from every strip of the block, as areas left out.',
  },
  offPlanNotInWeights: {
    message:
      'Weights are of whole strips, so ground that did not get what was planned is in the weights of strips ({count}).',
    whatToDo: 'Say so with the answer, leave these strips out, or use the points of a yield monitor.',
  },
  appliedPolygonsUsed: {
    message:
      'Outlines as applied stand for those of the plan (strips: {count}); their middles lie {meanM} m apart on average and {mostM} m at most.',
    whatToDo: 'Lay the strips as planned again on the Layout page if the plan is right.',
  },
};

/** Is this said of an application log, or of what logs say about the strips? */
export function isAboutApplication(code: string): boolean {
  return Object.hasOwn(APPLICATION_ADVICE, code);
}
