import type { AdviceByCode } from './sentence.ts';

/** Problems of turning points and weights into strip values. */
export const HARVEST_ADVICE: AdviceByCode = {
  noStripPolygons: {
    message:
      'No strip of the trial has an outline, and none names the passes that it was harvested in, so points cannot be placed.',
    whatToDo:
      'Add a layout with the strips as polygons, or say on the Harvest page which passes belong to which strip.',
  },
  stripsDrawnAndByPass: {
    message:
      'Some strips have an outline ({drawn}), others the passes that they were harvested in ({byPass}): {strips}. Which ground belongs to whom cannot be told.',
    whatToDo: 'Give every strip an outline, or give passes to every strip and outlines to none.',
  },
  fileWithoutPositions: {
    message: 'No position can be read in this file, so its passes cannot be told apart.',
    whatToDo: 'Export it with longitude and latitude, or use a table of weights by strip.',
  },
  filesFarApart: {
    message: 'This file lies {distanceKm} km from the middle of all points, too far for one field.',
    whatToDo: 'Take the file of the other field out, and analyse each field as a trial of its own.',
  },
  noHarvestPasses: {
    message: 'The track holds no pass in which anything was cut.',
    whatToDo: 'Check the columns of position, time, header and yield in the file.',
  },
  passesRenumbered: {
    message:
      'The strips name passes of another track: {before} passes numbered from the {fromBefore}ern edge ({filesBefore}); now there are {count}, numbered from the {from}ern edge.',
    whatToDo: 'Look at the passes on the Harvest page and say again which of them belong to which strip.',
  },
  passUnknown: {
    message: 'Strip {strip} names pass {pass}, and the track has {count} passes.',
    whatToDo: 'Correct the passes of this strip.',
  },
  passInTwoStrips: {
    message: 'Pass {pass} is given to strip {first} and to strip {second}.',
    whatToDo: 'Take it from one of them.',
  },
  passesNotHeld: {
    message:
      'The passes of the strips were given without the track that their numbers are of; here {count} passes are numbered from the {from}ern edge on.',
    whatToDo: 'Look at the numbered passes on the Harvest page and confirm which belong to which strip.',
  },
  stripsWithoutPass: {
    message: 'Strips without a pass get no points ({count}): {strips}.',
    whatToDo: 'Say which passes they were harvested in, or take them out.',
  },
  fileWithoutStripPass: {
    message: 'No pass of this file belongs to a strip.',
    whatToDo: 'Give its passes to strips, or take the file out.',
  },
  passCutOnNoPass: {
    message:
      'Places at which passes were to be cut lie on no pass, or less than {shortestM} m from an end of it ({count}); nothing is cut there.',
    whatToDo: 'Take these cuts back on the Harvest page, or set them anew for this track.',
  },
  stripsWithoutPolygon: {
    message: 'Strips without an outline get no points ({count}): {strips}.',
    whatToDo: 'Add their outlines to the layout.',
  },
  stripsOverlap: {
    message:
      'Strips {first} and {second} lie on the same ground ({overlapM2} m2, {sharePercent} % of the smaller); points there go to {first}.',
    whatToDo: 'Correct the outlines so that strips touch but do not overlap.',
  },
  stripRunsAcross: {
    message: 'Strip {strip} lies {degrees} degrees across the direction of the others.',
    whatToDo: 'Check its outline and its name in the layout.',
  },
  stripsFarApart: {
    message:
      'Strip {strip} lies {distanceKm} km from the others; one field is expected to stay within {limitKm} km.',
    whatToDo: 'Check its coordinates, or analyse the fields as separate trials.',
  },
  stripWithoutArea: {
    message: 'Strip {strip} has no area left.',
    whatToDo: 'Check its outline, or make the end and side margins smaller.',
  },
  stripNarrowerThanHeader: {
    message:
      'Strips are narrower than the header ({count}): {strips}; the header is {headerM} m wide, the narrowest strip {narrowestM} m, so every pass takes ground beside it.',
    whatToDo: 'Check the header width; if it is right, weigh these strips by hand or leave them out.',
  },
  pointsFarFromStrips: {
    message: 'The points ({points}) lie {distanceKm} km from the strips. {swapFits}{signFits}',
    whatToDo:
      'Check that file and layout are of the same field, which column is longitude, and the zone or projection where positions are in metres.',
  },
  exclusionOnNoStrip: {
    message: 'The area left out called {area} lies over no strip that it is for, so it cuts nothing.',
    whatToDo: 'Draw it again over the strips, or remove it.',
  },
  exclusionsByTreatment: {
    message:
      'Areas left out of single strips took more from some treatments than from others (means differ by {gapPercent} points of percent; {p}), so the choice of ground may look like an effect of treatment.',
    whatToDo: 'Cut these areas from every strip of the block, or say to the reader why they are not.',
  },
  exclusionsNotInWeights: {
    message: 'Weights are of whole strips, so areas left out by hand ({count}) cut nothing from them.',
    whatToDo: 'Take the weights as they are, or use the points of a yield monitor.',
  },
  noHarvestFile: {
    message: 'No harvest file was handed over.',
    whatToDo: 'Add a yield-monitor file or a table of weights.',
  },
  shiftNeedsTime: {
    message: 'A lag of {shiftLagS} s was to be shifted, but the file has no time, so nothing was shifted.',
    whatToDo: 'Export the file with its time column, or set the shift to 0.',
  },
  noYieldInFile: {
    message: 'The file holds neither a yield per area nor a flow nor a mass.',
    whatToDo: 'Say which column is the yield, or export the file with it.',
  },
  positionsJump: {
    message:
      'Positions lie farther off than the machine can have driven by its own record ({jumped}, {sharePercent} % of the file); they are set aside.',
    whatToDo:
      'Check whether two machines write into this file by turns, whether rows lack their time, and the units of distance and speed.',
  },
  groundUnknown: {
    message: 'Flow or mass cannot be turned into yield per area, since this is missing: {missing}.',
    whatToDo:
      'Export the file with it; where it is the width, the header width in the settings will do as well.',
  },
  stripsWithoutKeptPoints: {
    message:
      'Strips without a kept point have no value ({count}): {strips} (points read: {pointsRead}; most often set aside because: {mostOften}).',
    whatToDo: 'Look at them on the map, and at the margins and screens, before taking them as lost.',
  },
  headerReachesOver: {
    message:
      'The header reached over the side of strips ({count}): {strips}; {sharePercent} % of their kept points take ground beside them (header {headerM} m).',
    whatToDo: 'Make the side margin larger, or check the outlines and the header width.',
  },
  noPassFits: {
    message:
      'No pass lies by nine tenths of its width within these strips less their side margins ({count}): {strips}; the best of each was taken. At the worst {insidePercent} % of its width lies inside, and {neighbourPercent} % of the ground that all of them cut lies in other strips.',
    whatToDo:
      'Check the outlines, the header width and the side margin (strips cut in passes side by side need a small one); if they are right, weigh these strips or leave them out.',
  },
  setAsideByTreatment: {
    message:
      'The screens took more points from some treatments than from others (up to {gapPercent} percentage points; {p} by the design of the trial), which can bias the comparison.',
    whatToDo: 'See on the map which screen it was, and whether the answer holds with that screen off.',
  },
  directionLinesUp: {
    message:
      'The direction of travel goes with the treatment: in {sharePercent} % of the strips the treatment tells which way the combine drove. What depends on the direction (lag, lean, slope) cannot be told from the treatment.',
    whatToDo: 'Take the lag out as well as you can; next time harvest each block in one direction.',
  },
  machineLinesUp: {
    message:
      'The machine goes with the treatment: in {sharePercent} % of the strips the treatment tells which combine harvested, so that a difference between the machines cannot be told from that of the treatments.',
    whatToDo:
      'Calibrate both machines against a scale, or use weights of the strips; next time harvest each block with one machine.',
  },
  operatorLinesUp: {
    message:
      'The operator goes with the treatment in {sharePercent} % of the strips, so that the way of driving cannot be told from the treatment.',
    whatToDo: 'Say so with the answer; next time let one operator harvest whole blocks.',
  },
  fileLinesUp: {
    message:
      'The harvest file goes with the treatment in {sharePercent} % of the strips. If the files come from different machines, operators or days, their difference cannot be told from that of the treatments.',
    whatToDo: 'Calibrate both machines against a scale, or use weights of the strips.',
  },
  dayLinesUp: {
    message:
      'The day of harvest goes with the treatment in {sharePercent} % of the strips, so that weather and drying cannot be told from the treatment.',
    whatToDo: 'Say so with the answer; next time harvest whole blocks in a day.',
  },
  directionPartlyLinesUp: {
    message:
      'The direction of travel goes partly with the treatment: {mostPercent} % of the strips of {most} were cut one way, and {leastPercent} % of those of {least}. So much of what depends on the direction (lag, lean, slope) passes for a difference between them.',
    whatToDo: 'Take the lag out as well as you can; next time harvest each block in one direction.',
  },
  machinePartlyLinesUp: {
    message:
      'The machine goes partly with the treatment: {level} cut {mostPercent} % of the strips of {most} and {leastPercent} % of those of {least}. So much of a difference between machines passes for one between treatments.',
    whatToDo:
      'Take the machine into the model where the trial carries it, calibrate both machines against a scale, or weigh the strips; next time harvest each block with one machine.',
  },
  operatorPartlyLinesUp: {
    message:
      'The operator goes partly with the treatment: {level} cut {mostPercent} % of the strips of {most} and {leastPercent} % of those of {least}, so that part of the way of driving passes for the treatment.',
    whatToDo: 'Say so with the answer; next time let one operator harvest whole blocks.',
  },
  dayPartlyLinesUp: {
    message:
      'The day of harvest goes partly with the treatment: on {level} {mostPercent} % of the strips of {most} were cut, and {leastPercent} % of those of {least}, so that part of weather and drying passes for the treatment.',
    whatToDo: 'Say so with the answer; next time harvest whole blocks in a day.',
  },
  filePartlyLinesUp: {
    message:
      'The harvest file goes partly with the treatment: {level} holds {mostPercent} % of the strips of {most} and {leastPercent} % of those of {least}. If files come from different machines, operators or days, part of that passes for the treatment.',
    whatToDo:
      'Say which machine, operator and day each file is of; calibrate the machines against a scale, or weigh the strips.',
  },
  weightStripUnknown: {
    message: 'A weight is given for {strip}, which is no strip of the trial; it is left out.',
    whatToDo: 'Write the name of the strip as in the layout.',
  },
  weightImpossible: {
    message: 'The weight {weightKg} kg of {strip} is not possible; it is left out.',
    whatToDo: 'Correct the weight or its moisture.',
  },
  weightOverlaps: {
    message:
      'A load of {strip} ({weightKg} kg) holds a strip that stands in another load with other strips; it is left out.',
    whatToDo: 'Give each strip to one load, or weigh each by itself.',
  },
  weightsAddedUp: {
    message:
      'Several weights are given for the same strips ({count}: {strips}); they were added up as loads of one harvest.',
    whatToDo: 'Check that no weight stands there twice; else nothing.',
  },
  weightMoistureMissing: {
    message:
      'The weight of strip {strip} has no moisture, so it cannot be brought to standard and is left out.',
    whatToDo: 'Give the moisture of the load.',
  },
  weightWithoutPasses: {
    message: 'No pass is known that cut {strip}, so its weight stands on no ground and is left out.',
    whatToDo: 'Hand over the file of the machine that cut it, or give length and width in the table.',
  },
  loadWithoutWeight: {
    message: 'The row has no weight; it is left out.',
    whatToDo: 'Fill in the weight of the load, or take the row away.',
  },
  loadSharedOut: {
    message:
      'Loads of several strips of one treatment set the sum of {count} strips ({strips}); the monitor shares it out among them.',
    whatToDo: 'Weigh every strip by itself where that can be done.',
  },
  loadGivesLevelAlone: {
    message:
      'Loads over several treatments ({loads}) say nothing of the difference between them; all strips without a weight of their own were multiplied by {factor}.',
    whatToDo: 'Weigh the strips, or each treatment, by itself.',
  },
  weightNeedsArea: {
    message: 'Weights need the ground that was cut, and the monitor recorded no width, or no distance.',
    whatToDo: 'Give the header width in the settings, or use a table of weights with lengths and widths.',
  },
  stripsWithoutWeight: {
    message:
      'Strips were not weighed while others were ({count}): {strips}. Scale and monitor do not stand on one level, so these have no value.',
    whatToDo: 'Add their weights, or use the monitor alone.',
  },
  ratioByTreatment: {
    message:
      'The monitor reads some treatments higher against the scale than others ({p} by the design of the trial), so that its own differences cannot be trusted.',
    whatToDo: 'Go by the scale; calibrate the monitor for the moisture and flow of each treatment.',
  },
  harvestCancelled: {
    message: 'Reading the harvest was stopped.',
    whatToDo: 'Start it again for a result.',
  },
  handStripUnknown: {
    message: 'The trial has no strip {strip}; the row is left out.',
    whatToDo: 'Write the name of the strip as in the layout.',
  },
  handPlaceUnknown: {
    message: 'No strip has treatment {treatment} in block {block}; the row is left out.',
    whatToDo: 'Write treatment and block as in the layout.',
  },
  handPlaceAmbiguous: {
    message: 'Several strips have treatment {treatment} and block {block}: {strips}; the row is left out.',
    whatToDo: 'Name the strip itself in the table.',
  },
  handPlaceContradicts: {
    message:
      'Strip {strip} does not have treatment {treatment} and block {block} in the layout; the row is left out.',
    whatToDo: 'Find out which of the two is right, and correct the other.',
  },
  handPlaceMissing: {
    message: 'The row names neither a strip nor a treatment; it is left out.',
    whatToDo: 'Fill in the strip.',
  },
  handYieldMissing: {
    message:
      'The row has neither a weight with its area nor a yield per area; it counts for other responses alone.',
    whatToDo: 'Fill in weight and area, unless the strip was lost.',
  },
  handMoistureMissing: {
    message: 'The row has no moisture, so its yield cannot be brought to standard and is left out.',
    whatToDo: 'Fill in the moisture, or say that the yields are already at standard moisture.',
  },
  handValueImpossible: {
    message: '{value} is not possible as {quantity}; it is left out.',
    whatToDo: 'Correct it, or leave the cell blank.',
  },
  handStripsWithoutYield: {
    message: 'No row gave these strips a yield ({count}): {strips}.',
    whatToDo: 'Add their weights, or take them as lost.',
  },
  handResponseNameTaken: {
    message: "A further response is headed {name}, like one of the program's own; it is left out.",
    whatToDo: 'Give the column another heading if it is to be analysed.',
  },
  handSamplesMixed: {
    message:
      'In strip {strip} some samples have weight and area and others a yield alone; they cannot be put together, so it has no value.',
    whatToDo: 'Give all samples of the strip in the same form.',
  },
  handTablesContradict: {
    message:
      'This table and {first} give other values of {response} for the same strips ({count}): {strips}.',
    whatToDo:
      'Find out which is right and blank the other; samples of one strip belong in one table, where they are put together.',
  },
  handUnitsDiffer: {
    message: '{response} stands in another unit in {first}, or is taken over the ground in one of the two.',
    whatToDo: 'Bring both to one unit, or give one of the columns another heading.',
  },
};
