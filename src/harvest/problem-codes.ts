import { APPLIED_PROBLEM_CODES } from './applied-problem-codes.ts';

/**
 * Every code that this room hands out, with the keys of its details: the list from which `src/words/` writes its
 * sentences. Problems say what is wrong with layout or files; assumptions say what was taken for granted or done,
 * and stand beside the answer.
 */
export const HARVEST_PROBLEM_CODES = {
  ...APPLIED_PROBLEM_CODES,
  /** error. No strip of the trial has a polygon, and none names the passes that it was harvested in, so points cannot be placed. */
  noStripPolygons: [],
  /** error. Some strips have a polygon, others (`strips`) passes: which ground belongs to whom cannot be told. */
  stripsDrawnAndByPass: ['drawn', 'byPass', 'strips'],
  /** error, file. No position in the file. */
  fileWithoutPositions: [],
  /** error, file. The file lies so far from the middle of all points, too far for one field. */
  filesFarApart: ['distanceKm'],
  /** error. The track holds no harvest pass. */
  noHarvestPasses: [],
  /** error. The numbers of passes were given for another track (`before` passes from the edge `fromBefore`). */
  passesRenumbered: ['count', 'from', 'before', 'fromBefore', 'filesBefore'],
  /** error. A strip names a pass that the track does not have. */
  passUnknown: ['strip', 'pass', 'count'],
  /** error. Two strips name the same pass. */
  passInTwoStrips: ['pass', 'first', 'second'],
  /** warning. The document does not say which track its numbers of passes were given for. `from`: the edge that number 1 lies at. */
  passesNotHeld: ['count', 'from'],
  /** warning. These strips have no pass and get no points. */
  stripsWithoutPass: ['strips', 'count'],
  /** warning, file. No pass of the file belongs to a strip. */
  fileWithoutStripPass: [],
  /** warning. Cuts that meet no pass, or would leave a piece shorter than `shortestM`; they cut nothing. */
  passCutOnNoPass: ['count', 'shortestM'],
  /** warning. These strips have no polygon and get no points. */
  stripsWithoutPolygon: ['strips', 'count'],
  /** warning. Two strips lie on the same ground; `sharePercent` is of the smaller. Points there go to `first`. */
  stripsOverlap: ['first', 'second', 'overlapM2', 'sharePercent'],
  /** warning. A strip lies across the direction of the others (by more than 10 degrees). */
  stripRunsAcross: ['strip', 'degrees'],
  /** warning. The strips lie too far apart for one field; the strip farthest from the centre is named. */
  stripsFarApart: ['strip', 'distanceKm', 'limitKm'],
  /** warning. A polygon without area, or with edges so that no area is left. */
  stripWithoutArea: ['strip'],
  /** warning. A strip narrower than the header: every pass takes ground beside it. */
  stripNarrowerThanHeader: ['strips', 'count', 'headerM', 'narrowestM'],
  /** error where no file reaches a strip, else warning with the file. `swapFits`: exchanging longitude and latitude would bring them together. */
  pointsFarFromStrips: ['distanceKm', 'swapFits', 'signFits', 'points'],
  /** error. No file was handed over. */
  noHarvestFile: [],
  /** warning, file. A lag was to be shifted and the file has no time; nothing was shifted. */
  shiftNeedsTime: ['shiftLagS'],
  /** warning, file. More than a tenth of the positions lie farther off than the machine can have driven; they are set aside. */
  positionsJump: ['jumped', 'sharePercent'],
  /** error, file. The file holds neither yield per area, flow nor mass. */
  noYieldInFile: [],
  /** error, file. Flow or mass without ground: no width, or neither distance nor speed, so yield per area cannot be had. */
  groundUnknown: ['missing'],
  /** warning. No point was kept in these strips; they have no value. `pointsRead`: in all of them; `mostOften`: the commonest reason, null when no point was read in them. */
  stripsWithoutKeptPoints: ['strips', 'count', 'pointsRead', 'mostOften'],
  /** warning. Headers of kept points reach over the strip's side by more than a tenth of their width. `sharePercent`: of the strip's kept points. */
  headerReachesOver: ['strips', 'count', 'headerM', 'sharePercent'],
  /**
   * warning. No pass of these strips lies within them by a median share of 0.90, so the best was taken.
   * `insidePercent`: least median share inside the strip drawn in by its side margin; `neighbourPercent`: of their
   * ground that lies in other strips.
   */
  noPassFits: ['strips', 'count', 'insidePercent', 'neighbourPercent'],
  /** warning. Screens took more points from some treatments than from others, by the trial's own design; shares of strips. */
  setAsideByTreatment: ['p', 'gapPercent'],
  /** error. The outline of an area drawn by hand crosses itself. */
  exclusionCrossesItself: ['area'],
  /** warning. An area drawn by hand lies over no strip (or not over the one that it is for) and cuts nothing. */
  exclusionOnNoStrip: ['area'],
  /** warning. Areas for single strips took more ground from some treatments than from others, by the trial's own design; p is null where it cannot be had. */
  exclusionsByTreatment: ['p', 'gapPercent'],
  /** warning. Weights are of whole strips: areas drawn by hand cut nothing from them. */
  exclusionsNotInWeights: ['count'],
  /** warning. Knowing the treatment tells the direction of travel of so many percent of the strips, the block less. */
  directionLinesUp: ['sharePercent'],
  /** warning. As above: the machine, or who drove it. */
  machineLinesUp: ['sharePercent'],
  operatorLinesUp: ['sharePercent'],
  /** warning. As above: the file, and so perhaps the machine, the operator or the day. */
  fileLinesUp: ['sharePercent'],
  /** warning. As above: the day, by dates, or by nights within a file. */
  dayLinesUp: ['sharePercent'],
  /** warning. The level was harvested in so many percent of the strips of one treatment, and of another: half tied to them. */
  directionPartlyLinesUp: ['level', 'most', 'mostPercent', 'least', 'leastPercent'],
  machinePartlyLinesUp: ['level', 'most', 'mostPercent', 'least', 'leastPercent'],
  operatorPartlyLinesUp: ['level', 'most', 'mostPercent', 'least', 'leastPercent'],
  dayPartlyLinesUp: ['level', 'most', 'mostPercent', 'least', 'leastPercent'],
  filePartlyLinesUp: ['level', 'most', 'mostPercent', 'least', 'leastPercent'],
  /** warning. A weight is given for a strip that the trial does not have; it is left out. */
  weightStripUnknown: ['strip'],
  /** warning. A weight or moisture that cannot be; it is left out. */
  weightImpossible: ['strip', 'weightKg'],
  /** warning. A load shares strips with another that is not of the very same strips; it is left out. */
  weightOverlaps: ['strip', 'weightKg'],
  /** warning. Several weights of the very same strips are loads of one harvest: their masses were added up. */
  weightsAddedUp: ['strips', 'count'],
  /** warning. The strip's weight has no moisture and the monitor none either, so it cannot be brought to standard. */
  weightMoistureMissing: ['strip'],
  /** warning. Strips of the load were not cut by any pass that is known, so nothing can be divided by their ground. */
  weightWithoutPasses: ['strip'],
  /** warning, row. A row of the table of loads without a weight; it is left out. */
  loadWithoutWeight: [],
  /** warning. Loads of several strips of one treatment set their sum; the monitor shares it out among these strips. */
  loadSharedOut: ['strips', 'count'],
  /** warning. Loads over several treatments say nothing of their difference; they give all strips without a weight one factor. */
  loadGivesLevelAlone: ['loads', 'factor'],
  /** error. Weights need the ground that was cut, and the monitor's files do not give it in m². */
  weightNeedsArea: [],
  /** warning. Other strips were weighed and these not; scale and monitor do not stand on one level, so they have no value. */
  stripsWithoutWeight: ['strips', 'count'],
  /** warning. The ratio of monitor to scale differs between treatments, by the trial's own design. */
  ratioByTreatment: ['p'],
  /** note. Stopped at the user's wish. */
  harvestCancelled: [],
  /** warning, row. The table names a strip that the trial does not have. */
  handStripUnknown: ['strip'],
  /** warning, row. No strip has this treatment and block. */
  handPlaceUnknown: ['treatment', 'block'],
  /** warning, row. Several strips have this treatment and block (or treatment, where no block is given). */
  handPlaceAmbiguous: ['treatment', 'block', 'strips'],
  /** warning, row. The row names a strip and a treatment or block that is not that strip's; the row is left out. */
  handPlaceContradicts: ['strip', 'treatment', 'block'],
  /** warning, row. The row names neither a strip nor a treatment. */
  handPlaceMissing: [],
  /** warning, row. Neither a weight with its area nor a yield per area; the row counts for other responses alone. */
  handYieldMissing: [],
  /** warning, row. The yield needs the moisture to come to standard and the row has none; the sample's yield is left out. */
  handMoistureMissing: [],
  /** warning, row. Moisture outside 0 to 100 (both excluded), or an area or weight below what is possible. */
  handValueImpossible: ['quantity', 'value'],
  /** warning. No row gave these strips a yield. */
  handStripsWithoutYield: ['strips', 'count'],
  /** warning, column. A further response is headed like one of ours (yield, moisture); it is left out. */
  handResponseNameTaken: ['name'],
  /** warning. In one strip some samples have weight and area and others yields alone; the strip's value is left out. */
  handSamplesMixed: ['strip'],
  /** error, file. This table and the one named give strips unlike values of one response. */
  handTablesContradict: ['response', 'first', 'strips', 'count'],
  /** error, file. A response stands in another unit in the table named. */
  handUnitsDiffer: ['response', 'first'],
} as const satisfies Record<string, readonly string[]>;

export type HarvestProblemCode = keyof typeof HARVEST_PROBLEM_CODES;

export const HARVEST_ASSUMPTION_CODES = {
  /** Basis not answered; a moisture column and a standard exist: taken as wet and brought to standard. */
  moistureBasisAssumedWet: ['file', 'heading', 'standardPercent'],
  /** Basis not answered and the heading says dry: left as recorded, so that nothing is corrected twice. */
  headingSaysDry: ['file', 'heading'],
  /** Said to be wet, or not said, but the file has no moisture: yields as recorded. */
  noMoistureColumn: ['file', 'heading'],
  /** The trial has no standard moisture: yields as recorded. */
  noStandardMoisture: ['file', 'heading'],
  /** Said to be at a given moisture, but not at which: yields as recorded. */
  moistureOfYieldUnknown: ['file', 'heading'],
  /** Whether lag was taken out was not answered and nothing is shifted: taken as done. */
  lagAssumedApplied: ['file', 'heading'],
  /** Flow and moisture were moved back by so many seconds. */
  lagShifted: ['file', 'shiftLagS'],
  /** Flow and moisture were moved back, each by its own. */
  shiftedApart: ['file', 'shiftLagS', 'shiftMoistureS'],
  /** Masses were multiplied by a factor of the user's; `from`: where it comes from, in the user's words. */
  calibrated: ['file', 'factor', 'from'],
  /** Whether points were already filtered was not answered. */
  filteredUnknown: ['file', 'heading'],
  /** Whether the position is the antenna's or the header's was not answered: taken as the header's. */
  loggedPositionUnknown: ['file'],
  /** Said to be the antenna's position; its distance to the header is not known and not corrected. */
  antennaNotMovedToHeader: ['file'],
  /** Header width from the settings, from the recorded widths (their upper decile), or not known (side margin then as chosen). */
  headerFromSetting: ['file', 'headerM'],
  headerFromRecordedWidth: ['file', 'headerM'],
  headerUnknown: ['file', 'sideMarginM'],
  /** Neither distance nor speed: points of a strip weigh alike. */
  weighedEqually: ['file'],
  /** No time column: points are taken to be logged at even intervals. */
  evenIntervalAssumed: ['file'],
  /** Rows were not in the order driven: put in order of time, each machine by itself. */
  rowsPutInOrder: ['file'],
  /** No heading recorded: direction of travel from the positions. */
  headingFromTrack: ['file'],
  /** Screens that are on but for which the file has no column. */
  screensWithoutData: ['file', 'screens'],
  /** Positions that contradict the way driven, set aside as unreadable: the same place again, or too far off. */
  positionsNotTrusted: ['file', 'repeated', 'jumped'],
  /** Yields of strips are those of the scale, over the ground that their passes cut. */
  yieldsFromScale: ['file'],
  /** Strips are what their harvest passes cut; ends are those of each pass, there are no sides, and areas are not known. `from`: the edge that pass 1 lies at. */
  stripsByPass: ['count', 'from'],
  /** Passes that run through several strips were cut where the user said. */
  passesCut: ['cuts'],
  /** Stretches cut that are no pass over the field and got no number: across the others, or shorter than a fifth of the longest. */
  stretchesUnnumbered: ['across', 'short'],
  /** The file does not say where the header went down, so passes begin and end where its yield passes a fifth of its median. */
  passEndsFromYield: ['file'],
  /** Hand samples of a strip with yields alone: their plain mean. */
  handYieldsAveraged: ['file', 'strips'],
  /** Counts on samples of differing size: all that was counted over all the ground, per square metre. */
  handCountsOverArea: ['file', 'responses'],
  /** Contents, or test weight, of several samples a strip: by the samples' masses. */
  handMeansByMass: ['file', 'responses'],
  /** The same where not every sample was weighed: plain means. */
  handMeansPlain: ['file', 'responses'],
  /** Weights without moisture, brought to standard by the strip's moisture in another table. */
  handMoistureFromOther: ['file', 'from'],
} as const satisfies Record<string, readonly string[]>;

export type HarvestAssumptionCode = keyof typeof HARVEST_ASSUMPTION_CODES;

export interface Assumption {
  readonly code: HarvestAssumptionCode;
  readonly details: Readonly<Record<string, string | number | boolean | readonly string[] | null>>;
}
