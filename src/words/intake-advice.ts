import type { AdviceByCode } from './sentence.ts';

/** Problems of reading files: any file, tables, numbers, columns. */
export const TABLE_ADVICE: AdviceByCode = {
  notText: {
    message: 'This is not a text file but {looksLike}.',
    whatToDo: 'Open it in the program that made it and save it as CSV or XLSX, or a layout as GeoJSON.',
  },
  readAsWindows1252: {
    message: 'The file is not in UTF-8; its letters were read as windows-1252.',
    whatToDo: 'Check names with accents; if they look wrong, save the file as UTF-8.',
  },
  readAsUtf16: {
    message: 'Nothing in the file names its encoding; it was read as {encoding}.',
    whatToDo: 'Check names with accents; if they look wrong, save the file as UTF-8.',
  },
  damagedCharacters: {
    message: 'Some characters do not fit the encoding {encoding} that the file announces ({count} replaced).',
    whatToDo: 'Check the names in the file, and export it again if any are damaged.',
  },
  emptyFile: {
    message: 'The file is empty.',
    whatToDo: 'Export it again, and check that it has a size above zero.',
  },
  zipEmpty: {
    message: 'There is nothing in this archive that could be data.',
    whatToDo: 'Pack it again with the files of the layout or the harvest in it.',
  },
  zipDamaged: {
    message: 'The archive cannot be unpacked ({reason}).',
    whatToDo: 'Copy or export it again.',
  },
  zipTooLarge: {
    message:
      'More than {limit} MB or {entries} files come out of this archive, so unpacking was stopped and nothing was read.',
    whatToDo: 'Pack the files of this one trial alone.',
  },
  zipHoldsNothingKnown: {
    message: 'The archive holds no layout, table, workbook or task data (in it: {names}).',
    whatToDo: 'Unpack it and hand over the file that is meant.',
  },
  severalInZip: {
    message: 'The archive holds {count} files that could be meant: {names}.',
    whatToDo: 'Hand over the one that is meant.',
  },
  shapefilePartAlone: {
    message: 'This is one part of a shapefile, without its .shp.',
    whatToDo: 'Hand over .shp, .dbf and .prj together, or packed as a .zip.',
  },
  shapefileWithoutDbf: {
    message: 'The shapefile came without its .dbf, so nothing says what its shapes are.',
    whatToDo: 'Hand over .shp, .dbf and .prj together, or packed as a .zip.',
  },
  shapefileEmpty: {
    message: 'There is no shape in this shapefile.',
    whatToDo: 'Export it again with its shapes.',
  },
  shapefileDamaged: {
    message: 'The .shp is damaged (record {record}: {reason}).',
    whatToDo: 'Copy or export the shapefile again.',
  },
  dbfDamaged: {
    message: 'The .dbf is damaged or does not belong to these shapes ({reason}).',
    whatToDo: 'Copy or export the shapefile again, all parts together.',
  },
  encodingNotKnown: {
    message: 'The .cpg names the encoding "{encoding}", which is not known here.',
    whatToDo: 'Check names with accents.',
  },
  projectionAssumed: {
    message:
      'No .prj came with the shapefile; its coordinates were taken for longitude and latitude of WGS 84.',
    whatToDo: 'Nothing, if the shapes lie on the field.',
  },
  projectionMissing: {
    message: 'The coordinates ({x}, {y}) are not degrees, and no .prj says of which map projection they are.',
    whatToDo: 'Hand over the .prj with the other parts.',
  },
  projectionNotRead: {
    message: 'The map projection "{name}" of the .prj is not understood ({reason}).',
    whatToDo: 'Export it again in longitude and latitude (WGS 84).',
  },
  readInProjection: {
    message: 'Coordinates were turned to degrees by the projection of the .prj, {name}.',
    whatToDo: 'Nothing, if the shapes lie on the field.',
  },
  datumNotKnown: {
    message:
      'How the datum of the .prj ({name}) lies to WGS 84 is not known, so all positions of this file may be off by a hundred metres or more, all alike.',
    whatToDo:
      'Nothing, where strips and points both come in this datum; otherwise export it again in WGS 84, or move the layout onto the passes.',
  },
  unknownXml: {
    message: 'This is XML, but no KML (its outermost element: {root}).',
    whatToDo: 'Export the layout as KML, GeoJSON or shapefile, a harvest as CSV.',
  },
  notKml: {
    message: 'The KML cannot be read ({reason}).',
    whatToDo: 'Export it again.',
  },
  taskDataAlone: {
    message: 'This is TASKDATA.XML alone; the points stand in the log files beside it.',
    whatToDo: 'Pack the whole TASKDATA folder as a .zip and hand that over.',
  },
  // Handed out by intake and by the command line, with different details; the sentence does without.
  fileTooLarge: {
    message: 'The file is too large to be read here.',
    whatToDo: 'Cut it down to the field of the trial, or split it into several files.',
  },
  notATable: {
    message: 'No comma, semicolon, tab or bar divides the first lines into columns, nor do runs of spaces.',
    whatToDo: 'Save the table as CSV, with one line of headings on top.',
  },
  headerOnly: {
    message: 'The file has headings ({headings}) but no row beneath them.',
    whatToDo: 'Export it again with its data.',
  },
  headingsAndRowsDiffer: {
    message:
      'Divided by {separator}, the line of headings has {headings} cells and the rows have {cells}, so which value belongs under which heading cannot be told.',
    whatToDo:
      'Give every column a heading (row numbers too); where decimals are written with commas, save the file with semicolons or tabs between columns.',
  },
  noHeadings: {
    message: 'The first line holds numbers ({cells}) where headings are needed.',
    whatToDo: 'Put a line on top that names each column and its unit.',
  },
  linesAboveHeadings: {
    message: 'Above the headings stand lines that are no part of the table ({count}, beginning "{example}").',
    whatToDo: 'Nothing, unless the headings were not recognised.',
  },
  unitsBelowHeadings: {
    message: 'The row beneath the headings was read as their units: {units}.',
    whatToDo: 'Nothing, unless that row holds data.',
  },
  unitsDisagree: {
    message: 'The heading says {inHeading}, the row of units beneath it says {below}.',
    whatToDo: 'Leave only the right one of the two in the file.',
  },
  headingTwice: {
    message: 'Two columns carry the same heading; the later one goes on as {readAs}.',
    whatToDo: 'Choose the right one, or rename one of them in the file.',
  },
  raggedRow: {
    message:
      'The row has {cells} cell(s) where {expected} are expected; missing cells count as blank (rows of this kind: {count}).',
    whatToDo: 'Check these rows if anything in them should have been there.',
  },
  columnsWithoutName: {
    message: 'Columns without a heading were left out ({count}): number {columns} in the row.',
    whatToDo: 'Give them headings if one of them is needed.',
  },
  rowTooLong: {
    message:
      'The row has {cells} cells where {expected} are expected, so its values cannot be put under their headings (rows of this kind: {count}).',
    whatToDo: 'Look for a decimal comma or a stray separator, and save the file with another separator.',
  },
  unclosedQuote: {
    message: 'A quotation mark is opened here and never closed.',
    whatToDo: 'Close or remove the quotation mark.',
  },
  lastLineCutOff: {
    message: 'The last line breaks off in the middle; the rows before it are used.',
    whatToDo: 'Copy or export the file again if the rows at its end matter.',
  },
  notANumber: {
    message: '"{text}" stands where a number is needed (cells of this kind: {count}).',
    whatToDo: 'Write the number, or leave the cell blank (or NA) if the plot was lost.',
  },
  ambiguousNumber: {
    message:
      '"{text}" may mean thousands or decimals, and nothing else in the file tells which (cells of this kind: {count}).',
    whatToDo: 'Write numbers without a mark for thousands.',
  },
  mixedDecimalMarks: {
    message: '"{text}" and "{other}" use different decimal marks in one column.',
    whatToDo: 'Use one decimal mark throughout the file.',
  },
  lostPlots: {
    message: 'Lost plots, left out for this response: {count} (row {rows}).',
    whatToDo: 'Nothing, if these plots were lost; otherwise fill in their values.',
  },
  noValues: {
    message: 'The column holds no number at all.',
    whatToDo: 'Choose another column, or check how the file was exported.',
  },
  workbookDamaged: {
    message: 'The workbook cannot be read ({reason}).',
    whatToDo: 'Save it again as .xlsx, or save the sheet as CSV.',
  },
  firstSheetTaken: {
    message: 'Several sheets hold something; {sheet} was read, not {others}.',
    whatToDo: 'Put the sheet that is meant first, or save it alone.',
  },
  askWhichColumn: {
    message: 'Several columns could be the {role}: {candidates}.',
    whatToDo: 'Say which of them it is.',
  },
  askUnit: {
    message: 'The {role} needs a unit, and its heading names none that is understood.',
    whatToDo: 'Say the unit; understood are {units}.',
  },
  unknownUnit: {
    message: 'The unit "{unit}" is not one that measures the {role}.',
    whatToDo: 'Choose one of {units}.',
  },
  noSuchColumn: {
    message: 'There is no column of this name to serve as the {role}.',
    whatToDo: 'Choose one of the headings in the file: {headings}.',
  },
  columnUsedTwice: {
    message: 'One column is named for two purposes: {roles}.',
    whatToDo: 'Name a different column for each.',
  },
  unitsInCells: {
    message: 'The unit {unit} stands behind each number of the column and was taken from there.',
    whatToDo: 'Nothing, unless another unit is right.',
  },
  mixedUnits: {
    message: 'The units of this column differ: "{text}" here, {other} elsewhere.',
    whatToDo: 'Bring all of the column to one unit.',
  },
  bushelsNeedCrop: {
    message: 'The {role} is in {unit}, and a bushel is a mass only when the crop is known.',
    whatToDo: 'Name the crop of the trial, or say what a bushel weighs in this file.',
  },
};

/** Problems of yield-monitor points, hand harvests and plot tables. */
export const HARVEST_FILE_ADVICE: AdviceByCode = {
  noPositionColumns: {
    message: 'No column is recognised as {missing}.',
    whatToDo: 'Say which column it is; the file has {headings}.',
  },
  noYieldColumn: {
    message: 'No column is recognised as a yield, a mass flow or a mass.',
    whatToDo: 'Say which column it is and in which unit; the file has {headings}.',
  },
  textInNumberColumn: {
    message: '"{text}" stands where a number is needed; such points count as unreadable ({count}).',
    whatToDo: 'Check the column if these are many.',
  },
  blankCells: {
    message: 'Nothing stands in this column for {count} of {of} points.',
    whatToDo: 'Check the export if these are many.',
  },
  noReadablePoints: {
    message: 'Not one value of this column could be read, and it is needed.',
    whatToDo: 'Choose another column, or export the file again.',
  },
  latitudeOutOfRange: {
    message: 'The coordinate {value} is beyond {allowed} degrees; such points are set aside ({count}).',
    whatToDo: 'Check the receiver, or the column chosen for the position.',
  },
  latitudeLongitudeSwapped: {
    message: 'Latitude and longitude look swapped (latitude {latitude}, longitude {longitude}).',
    whatToDo: 'Swap the two columns, or in a layout put longitude first.',
  },
  notDegrees: {
    message:
      'The coordinates ({longitude}, {latitude}) are not degrees; they may be metres of a map projection.',
    whatToDo:
      'Export the file with longitude and latitude in degrees (WGS 84), or say the zone as the unit of both columns, for example UTM 32N.',
  },
  positionZero: {
    message: 'The position is exactly zero, so the receiver had no fix; such points are set aside ({count}).',
    whatToDo: 'Nothing, unless these are many.',
  },
  positionsInMinutes: {
    message: 'Positions such as "{text}" were read as decimal degrees ({degrees}).',
    whatToDo: 'Nothing, if the points lie on the field.',
  },
  askUtmZone: {
    message: 'The {role} is in metres of a map grid ({example}), and its zone is not known.',
    whatToDo: 'Say the zone as the unit of the column, for example UTM 32N, or write it into the heading.',
  },
  readInZone: {
    message: 'Positions in metres were turned to degrees by the zone {zone}.',
    whatToDo: 'Nothing, if the points lie on the field; otherwise choose another zone.',
  },
  notInZone: {
    message:
      'No place of {zone} has the easting {eastingM} and the northing {northingM}; such points are set aside ({count}).',
    whatToDo: 'Check the zone and the columns chosen for the position.',
  },
  allInOnePlace: {
    message: 'All {count} points have the same position, so none can be put on a strip by it.',
    whatToDo: 'Check the columns chosen for the position, or export the file again.',
  },
  longitudesEastward: {
    message:
      'Longitudes are counted eastward from 0 to 360 ({count} positions); {longitude} was read as {readAs}, and so on.',
    whatToDo: 'Nothing, if the field lies west of Greenwich.',
  },
  timesFilledIn: {
    message:
      '{count} rows without a time stand between two times that lie as many usual steps apart; they were given the times between.',
    whatToDo: 'Nothing.',
  },
  rowsWithoutTime: {
    message:
      '{count} of {of} rows have no time, and none follows from the rows around them. They count where they lie, but are not held against the rows before and after (turns, changes of speed), and a lag that is shifted leaves them out.',
    whatToDo:
      'Fill in the times; or, if no lag is to be shifted, say that no column is the time: all rows then follow one another in the order of the file.',
  },
  clockBackwards: {
    message: 'The clock runs backwards {count} time(s), by up to {largestS} seconds.',
    whatToDo: 'Nothing, if logs were joined end to end; otherwise check the order of the rows.',
  },
  askHeaderWidth: {
    message: 'Nothing says how wide the header was ({files}).',
    whatToDo: 'Enter the header width in the cleaning settings, or choose a column for it.',
  },
  volumeBesideMass: {
    message:
      'The yield is a volume in {volumes} and a mass in {masses}; a bushel was taken to weigh {kgPerBushel} kg ({poundsPerBushel} lb).',
    whatToDo:
      'Say what a bushel weighed in the monitor that counted bushels; if it is this weight, enter it all the same.',
  },
  moistureImpossible: {
    message: 'A moisture of {value} % cannot be (rows like this one: {count}); such values are not used.',
    whatToDo: 'Check the moisture sensor or the column, and correct or leave blank what is wrong.',
  },
  moistureLooksLikeShare: {
    message: 'No moisture is above {largest}: this looks like a share from 0 to 1, not percent.',
    whatToDo: 'Say the unit of the moisture column.',
  },
  timeNotRead: {
    message:
      'The time "{text}" is not understood, or its day cannot be told from its month (in {count} of {of} rows).',
    whatToDo: 'Export times as year-month-day hours:minutes:seconds, or as seconds.',
  },
  clockCoarse: {
    message:
      'The clock counts in steps of {stepS} s, so rows share a time ({count} of {of}); they were spread evenly over each step.',
    whatToDo: 'Nothing; a lag is better told with times as fine as the log.',
  },
  clockStandsStill: {
    message: 'One and the same time stands in all rows; the column is left out.',
    whatToDo: 'Choose the column that holds the clock, or export the file with its times.',
  },
  headerStateNotRead: {
    message: '"{text}" says neither header up nor down; such points count as not recorded ({count}).',
    whatToDo: 'Check the column, or take the header height out of the choice of columns.',
  },
  noPointFeatures: {
    message: 'There is no point among the {features} feature(s) (found: {types}).',
    whatToDo: 'Export the harvest as points.',
  },
  featuresNotPoints: {
    message: 'Features that are not points were left out ({count}).',
    whatToDo: 'Nothing, if these are not of the harvest.',
  },
  taskDataDamaged: {
    message: 'The task data cannot be read ({reason}).',
    whatToDo: 'Copy the whole TASKDATA folder from the terminal again and pack it as a .zip.',
  },
  taskDataWithoutLogs: {
    message: 'No log of these task data holds a record.',
    whatToDo: 'Pack the whole TASKDATA folder with its log files, of a task that was worked.',
  },
  taskDataNoLayout: {
    message: 'These are task data of a machine, not a layout of strips.',
    whatToDo: 'Hand over the layout as GeoJSON, KML, shapefile or a table of corners.',
  },
  taskDataLogged: {
    message: 'Logged quantities that were read (identifiers): {used}; not read: {unused}.',
    whatToDo: 'Nothing, unless one of them is needed.',
  },
  taskDataCarriedOn: {
    message: 'Logs write a value when it changes; in between, the last one was taken ({count} values).',
    whatToDo: 'Nothing, this is how such logs are read.',
  },
  taskLogMissing: {
    message: 'The log {log} is not complete in the archive and was left out.',
    whatToDo: 'Pack the whole TASKDATA folder again if it belongs to the trial.',
  },
  taskLogCutOff: {
    message: 'The log {log} breaks off or does not fit its header; {records} records before that were used.',
    whatToDo: 'Copy the TASKDATA folder again if the rest matters.',
  },
  noStripColumn: {
    message: 'Rows can be joined to strips neither by a strip name nor by a treatment.',
    whatToDo: 'Say which column names the strip; the file has {headings}.',
  },
  noHarvestColumn: {
    message: 'There is neither a weight nor a yield nor any other number to analyse.',
    whatToDo: 'Say which column to analyse; the file has {headings}.',
  },
  weightWithoutArea: {
    message: 'A weight needs the area that it came from.',
    whatToDo: 'Add the harvested length and width, or the area, with units; the file has {headings}.',
  },
  notPositive: {
    message: '{value} cannot be a length, width, area or weight (cells of this kind: {count}).',
    whatToDo: 'Correct the cell, or leave it blank if the strip was lost.',
  },
  rowWithoutStrip: {
    message: 'The row does not say which strip or treatment it belongs to (rows of this kind: {count}).',
    whatToDo: 'Fill in the strip or the treatment.',
  },
  otherResponsesTaken: {
    message: 'Further numbers were taken as responses of their own: {headings}.',
    whatToDo: 'Nothing, unless one of them is not a measurement.',
  },
  responseTaken: {
    message: 'This column was taken as the response, since it is the only numeric one left.',
    whatToDo: 'Name the response if another was meant.',
  },
  treatmentTaken: {
    message: 'This column was taken as the treatment because of its heading.',
    whatToDo: 'Name the treatment column if another was meant.',
  },
  blockNotUsed: {
    message:
      'This column looks like a block but was not named, so the trial is read as completely randomized.',
    whatToDo: 'Name it as the block if treatments were randomised within it.',
  },
  blankLevel: {
    message: 'The treatment or block is blank here (rows of this kind: {count}).',
    whatToDo: 'Fill it in, or take the row out.',
  },
  levelsAlike: {
    message: '"{a}" and "{b}" differ only in capitals, spaces or punctuation; they were kept as two.',
    whatToDo: 'Write both the same way if they are one.',
  },
  subsamplesAveraged: {
    message: '{rows} rows were averaged into {plots} plots, since they were said to be sub-samples.',
    whatToDo: 'Nothing, if they are sub-samples; otherwise take that setting back.',
  },
  subsamplesSkipped: {
    message: 'Blank sub-samples were left out of the averages ({count}).',
    whatToDo: 'Nothing, if they were lost; otherwise fill them in.',
  },
};
