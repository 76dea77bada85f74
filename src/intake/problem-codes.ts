import { type Problem, type ProblemPlace, type ProblemSeverity, problem } from '../trial/problem.ts';

/**
 * Every problem that intake can name, with the keys of its `details`. Sentences are made in `src/words/`.
 * `place` says which of row and column the problem carries besides the file. Lists in details are text. Counts
 * (`count`) include the example that `row` points at. `features` are numbered from 1 in file order.
 */
interface IntakeProblemCodeEntry {
  readonly code: string;
  readonly severity: ProblemSeverity;
  readonly place: 'file' | 'row' | 'column' | 'cell';
  /** What each key of `details` holds. */
  readonly details: Readonly<Record<string, string>>;
  readonly means: string;
}

export const INTAKE_PROBLEM_CODES = [
  // Any file
  {
    code: 'notText',
    severity: 'error',
    place: 'file',
    details: { looksLike: "'zip' | 'image' | 'pdf' | 'compressed' | 'oldOffice' | 'database' | 'binary'" },
    means:
      'Not a text file. A zip may be a spreadsheet workbook or a zipped map: it must be saved as CSV or GeoJSON.',
  },
  {
    code: 'readAsWindows1252',
    severity: 'note',
    place: 'file',
    details: {},
    means: 'The bytes are not UTF-8, so letters beyond plain English were read as windows-1252.',
  },
  {
    code: 'readAsUtf16',
    severity: 'note',
    place: 'file',
    details: { encoding: "'utf-16le' | 'utf-16be'" },
    means: 'Every other byte is zero, so the text was read as UTF-16 though no byte order mark says so.',
  },
  {
    code: 'damagedCharacters',
    severity: 'warning',
    place: 'file',
    details: { encoding: "'utf-8' | 'utf-16le' | 'utf-16be'", count: 'characters replaced' },
    means: 'The file announces an encoding by its byte order mark, but some characters do not fit it.',
  },
  { code: 'emptyFile', severity: 'error', place: 'file', details: {}, means: 'Nothing in it but blanks.' },
  {
    code: 'fileTooLarge',
    severity: 'error',
    place: 'file',
    details: { megabytes: 'size of the file', limit: 'largest size read, in megabytes' },
    means: 'The file is larger than a text of its kind can be.',
  },
  // Archives and maps of several files
  {
    code: 'zipEmpty',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'A zip archive with nothing in it that could be data.',
  },
  {
    code: 'zipDamaged',
    severity: 'error',
    place: 'file',
    details: { reason: 'the unpacker’s words, English' },
    means: 'A zip archive that cannot be unpacked.',
  },
  {
    code: 'zipTooLarge',
    severity: 'error',
    place: 'file',
    details: { limit: 'megabytes that may come out of it', entries: 'files that may be in it' },
    means: 'A zip archive from which more comes out than any trial needs; unpacking was stopped.',
  },
  {
    code: 'zipHoldsNothingKnown',
    severity: 'error',
    place: 'file',
    details: { names: 'list of the files in it' },
    means: 'A zip archive without a table, layout, workbook or task data.',
  },
  {
    code: 'severalInZip',
    severity: 'error',
    place: 'file',
    details: { names: 'list', count: 'number of them' },
    means: 'Several layouts or tables in one archive: which is meant cannot be told.',
  },
  {
    code: 'shapefilePartAlone',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'A part of a shapefile without its .shp.',
  },
  {
    code: 'shapefileWithoutDbf',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'Shapes without the table that says what they are.',
  },
  {
    code: 'shapefileEmpty',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'A shapefile without a single shape.',
  },
  {
    code: 'shapefileDamaged',
    severity: 'error',
    place: 'file',
    details: { record: 'number of the record, 0: its header or unknown', reason: 'in English' },
    means: 'The .shp is not built as its own lengths say.',
  },
  {
    code: 'dbfDamaged',
    severity: 'error',
    place: 'file',
    details: { reason: 'in English' },
    means: 'The .dbf is not built as its own lengths say, or does not belong to the shapes.',
  },
  {
    code: 'encodingNotKnown',
    severity: 'note',
    place: 'file',
    details: { encoding: 'as written in the .cpg' },
    means:
      'The .cpg names an encoding that is not known here; the letters were read as UTF-8 or windows-1252.',
  },
  {
    code: 'projectionAssumed',
    severity: 'note',
    place: 'file',
    details: {},
    means: 'No .prj came with the shapefile; its coordinates were taken for degrees of WGS 84.',
  },
  {
    code: 'projectionMissing',
    severity: 'error',
    place: 'file',
    details: { x: 'number', y: 'number' },
    means: 'No .prj came with the shapefile, and its coordinates are not degrees.',
  },
  {
    code: 'projectionNotRead',
    severity: 'error',
    place: 'file',
    details: { name: 'as written', reason: 'in English' },
    means: 'The .prj names a map projection that is not understood.',
  },
  {
    code: 'readInProjection',
    severity: 'note',
    place: 'file',
    details: { name: 'as written in the .prj' },
    means: 'Coordinates were turned to degrees by the projection that the .prj names.',
  },
  {
    code: 'unknownXml',
    severity: 'error',
    place: 'file',
    details: { root: 'name of its outermost element, or null' },
    means: 'XML that is no KML.',
  },
  {
    code: 'notKml',
    severity: 'error',
    place: 'file',
    details: { reason: 'the parser’s words, English' },
    means: 'KML that is not well-formed.',
  },
  {
    code: 'taskDataAlone',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'TASKDATA.XML without the logs that belong to it.',
  },
  // Tables
  {
    code: 'notATable',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'No comma, semicolon, tab or bar, nor runs of spaces, divide the first lines into columns.',
  },
  {
    code: 'headerOnly',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'A line of headings and no row beneath it.',
  },
  {
    code: 'noHeadings',
    severity: 'error',
    place: 'row',
    details: { cells: 'list: what stands in the first line' },
    means: 'The first line holds numbers alone where headings are needed.',
  },
  {
    code: 'linesAboveHeadings',
    severity: 'note',
    place: 'row',
    details: { count: 'lines passed over', example: 'beginning of the first of them' },
    means: 'Comments or titles stand above the line of headings.',
  },
  {
    code: 'unitsBelowHeadings',
    severity: 'note',
    place: 'row',
    details: { units: 'list' },
    means: 'The row beneath the headings holds their units; it is no row of data.',
  },
  {
    code: 'unitsDisagree',
    severity: 'error',
    place: 'cell',
    details: { inHeading: 'unit in the heading', below: 'unit in the row beneath' },
    means: 'A heading and the row of units beneath it name different units.',
  },
  {
    code: 'headingTwice',
    severity: 'warning',
    place: 'column',
    details: { readAs: 'the name under which the later column goes on, e.g. "Yield (2)"' },
    means: 'Two columns carry the same heading.',
  },
  {
    code: 'raggedRow',
    severity: 'warning',
    place: 'row',
    details: { cells: 'cells in that row', expected: 'number of headings', count: 'rows of that kind' },
    means: 'Rows with fewer cells than headings; the missing cells count as blank.',
  },
  {
    code: 'rowTooLong',
    severity: 'warning',
    place: 'row',
    details: { cells: 'cells in that row', expected: 'number of headings', count: 'rows of that kind' },
    means:
      'Rows with more filled cells than headings (a decimal comma in a comma-separated file, or a stray separator): which value belongs under which heading cannot be told. Points: the rows are set aside. Tables: an error.',
  },
  {
    code: 'unclosedQuote',
    severity: 'error',
    place: 'row',
    details: {},
    means: 'A quotation mark is opened at that row and never closed.',
  },
  {
    code: 'lastLineCutOff',
    severity: 'warning',
    place: 'row',
    details: {},
    means: 'The last line breaks off in the middle (a copy was interrupted); the rows before it are used.',
  },
  // Numbers
  {
    code: 'notANumber',
    severity: 'error',
    place: 'cell',
    details: { text: 'what stands there', count: 'such cells in the column' },
    means: 'Text, infinity or NaN where a number is needed.',
  },
  {
    code: 'ambiguousNumber',
    severity: 'error',
    place: 'cell',
    details: { text: 'what stands there', count: 'such cells in the column' },
    means:
      'A single comma or dot before three digits: thousands or decimals? Nothing else in the file tells.',
  },
  {
    code: 'mixedDecimalMarks',
    severity: 'error',
    place: 'cell',
    details: { text: 'what stands there', other: 'a cell that uses the other mark' },
    means: 'Some cells of the column use a decimal comma and some a decimal point.',
  },
  {
    code: 'lostPlots',
    severity: 'note',
    place: 'column',
    details: { count: 'number', rows: 'list of row numbers as text, at most 10' },
    means: 'Blank, NA or . stand in these rows: lost plots, left out for this response.',
  },
  {
    code: 'noValues',
    severity: 'error',
    place: 'column',
    details: {},
    means: 'The column holds no number at all.',
  },
  // Workbooks
  {
    code: 'workbookDamaged',
    severity: 'error',
    place: 'file',
    details: { reason: 'the reader’s words, English' },
    means: 'A workbook that cannot be read.',
  },
  {
    code: 'firstSheetTaken',
    severity: 'note',
    place: 'file',
    details: { sheet: 'its name', others: 'list of the further sheets that hold something' },
    means: 'Several sheets hold something; the first was read.',
  },
  // Columns
  {
    code: 'askWhichColumn',
    severity: 'error',
    place: 'file',
    details: { role: 'ColumnRole', candidates: 'list of headings' },
    means: 'Several columns answer equally well for one quantity; the user must choose.',
  },
  {
    code: 'askUnit',
    severity: 'error',
    place: 'column',
    details: { role: 'ColumnRole', units: 'list of units that would be understood' },
    means: 'The column needs a unit and its heading names none.',
  },
  {
    code: 'unknownUnit',
    severity: 'error',
    place: 'column',
    details: { role: 'ColumnRole', unit: 'as written', units: 'list of units that would be understood' },
    means: 'The unit chosen by the user is not known, or does not measure this quantity.',
  },
  {
    code: 'noSuchColumn',
    severity: 'error',
    place: 'column',
    details: { headings: 'list', role: 'ColumnRole' },
    means: 'A column named by the user is not in the file. `column` is the name asked for.',
  },
  {
    code: 'columnUsedTwice',
    severity: 'error',
    place: 'column',
    details: { roles: 'list of ColumnRole' },
    means: 'The user named one column for two purposes.',
  },
  {
    code: 'bushelsNeedCrop',
    severity: 'error',
    place: 'column',
    details: { role: 'ColumnRole', unit: 'as written' },
    means: 'A bushel is a mass only when the crop is known.',
  },
  {
    code: 'unitsInCells',
    severity: 'note',
    place: 'column',
    details: { unit: 'name' },
    means: 'The unit stands behind every number of the column, and was taken from there.',
  },
  {
    code: 'mixedUnits',
    severity: 'error',
    place: 'cell',
    details: { text: 'what stands there', other: 'a cell or unit that differs from it' },
    means: 'The cells of one column carry different units, or some a unit and some none.',
  },
  // Yield-monitor points
  {
    code: 'noPositionColumns',
    severity: 'error',
    place: 'file',
    details: { missing: "list of 'longitude', 'latitude'", headings: 'list' },
    means: 'No column is recognised as longitude or latitude.',
  },
  {
    code: 'noYieldColumn',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'No column is recognised as a yield, a mass flow or a mass.',
  },
  {
    code: 'textInNumberColumn',
    severity: 'warning',
    place: 'cell',
    details: { text: 'first example', count: 'such cells in the column' },
    means: 'Yield-monitor points with text where a number is needed count as unreadable.',
  },
  {
    code: 'blankCells',
    severity: 'note',
    place: 'cell',
    details: { count: 'such cells in the column', of: 'points in the file' },
    means: 'Points with nothing in a column that is used.',
  },
  {
    code: 'noReadablePoints',
    severity: 'error',
    place: 'column',
    details: {},
    means: 'Not one value in a column that is needed could be read.',
  },
  {
    code: 'latitudeOutOfRange',
    severity: 'warning',
    place: 'cell',
    details: {
      value: 'number',
      count: 'such points',
      allowed: 'largest absolute value in degrees, 90 or 180',
    },
    means: 'A latitude beyond ±90 or a longitude beyond ±180 degrees; these points are set aside.',
  },
  {
    code: 'latitudeLongitudeSwapped',
    severity: 'error',
    place: 'row',
    details: { latitude: 'number as read', longitude: 'number as read' },
    means: 'Latitudes beyond ±90 degrees while longitudes would do: the two are swapped. Also in layouts.',
  },
  {
    code: 'notDegrees',
    severity: 'error',
    place: 'row',
    details: { longitude: 'number as read', latitude: 'number as read' },
    means: 'Coordinates far outside degrees: probably metres of a map projection. Also in layouts.',
  },
  {
    code: 'positionZero',
    severity: 'warning',
    place: 'row',
    details: { count: 'such points' },
    means: 'Longitude and latitude are both exactly 0: the receiver had no fix; these points are set aside.',
  },
  {
    code: 'positionsInMinutes',
    severity: 'note',
    place: 'cell',
    details: { text: 'the first position', degrees: 'what it was read as' },
    means:
      'Positions written in degrees, minutes and seconds, or with a letter, were read as decimal degrees.',
  },
  {
    code: 'askUtmZone',
    severity: 'error',
    place: 'column',
    details: { role: "'longitude' | 'latitude'", example: 'first value' },
    means: 'Positions are eastings and northings in metres, and the zone of the grid is not known.',
  },
  {
    code: 'readInZone',
    severity: 'note',
    place: 'file',
    details: { zone: 'e.g. UTM 32N' },
    means: 'Positions in metres were turned to degrees by this zone.',
  },
  {
    code: 'notInZone',
    severity: 'warning',
    place: 'row',
    details: { zone: 'e.g. UTM 32N', eastingM: 'number', northingM: 'number', count: 'such points' },
    means: 'An easting or northing that no zone of the grid has; the point is set aside, most: an error.',
  },
  {
    code: 'allInOnePlace',
    severity: 'warning',
    place: 'file',
    details: { count: 'points' },
    means: 'All points of a file carry the same position.',
  },
  {
    code: 'clockBackwards',
    severity: 'warning',
    place: 'cell',
    details: { count: 'steps backwards', largestS: 'the largest of them in seconds' },
    means: 'Times run backwards from one row to the next.',
  },
  {
    code: 'askHeaderWidth',
    severity: 'warning',
    place: 'file',
    details: { files: 'list' },
    means: 'Neither the files nor the settings say how wide the header was.',
  },
  {
    code: 'moistureImpossible',
    severity: 'warning',
    place: 'cell',
    details: {
      value: 'number',
      count: 'such rows',
      kept: 'true: still in the data (points), false: taken as not measured (hand)',
    },
    means: 'A moisture of 0 or 100 %, or outside 0 to 100 %.',
  },
  {
    code: 'moistureLooksLikeShare',
    severity: 'error',
    place: 'column',
    details: { largest: 'number' },
    means: 'No moisture is above 1: a share from 0 to 1 where percent are expected. The unit must be chosen.',
  },
  {
    code: 'timeNotRead',
    severity: 'warning',
    place: 'cell',
    details: { text: 'first example', count: 'such cells', of: 'rows' },
    means: 'Times in a form that is not understood (or day and month cannot be told apart).',
  },
  {
    code: 'headerStateNotRead',
    severity: 'warning',
    place: 'cell',
    details: { text: 'first example', count: 'such cells' },
    means: 'Words in the header column that say neither up nor down; these points count as not recorded.',
  },
  {
    code: 'noPointFeatures',
    severity: 'error',
    place: 'file',
    details: { features: 'number of features', types: 'list of geometry types seen' },
    means: 'No point in a file of features that should hold a harvest.',
  },
  {
    code: 'featuresNotPoints',
    severity: 'warning',
    place: 'file',
    details: { count: 'number' },
    means: 'Features of a harvest that are not points were left out.',
  },
  {
    code: 'taskDataDamaged',
    severity: 'error',
    place: 'file',
    details: { reason: 'the reader’s words, English' },
    means: 'ISO 11783-10 task data that cannot be read.',
  },
  {
    code: 'taskDataWithoutLogs',
    severity: 'error',
    place: 'file',
    details: { tasks: 'number of tasks or logs' },
    means: 'Task data in which no log holds a record.',
  },
  {
    code: 'taskDataNoLayout',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'Task data where a layout is needed.',
  },
  {
    code: 'taskDataLogged',
    severity: 'note',
    place: 'file',
    details: { used: 'list of data dictionary identifiers', unused: 'list' },
    means: 'Which logged quantities were read and which were not.',
  },
  {
    code: 'taskDataCarriedOn',
    severity: 'note',
    place: 'file',
    details: { count: 'values' },
    means: 'A log writes a value when it changes; in between, the last one was taken.',
  },
  {
    code: 'taskLogMissing',
    severity: 'warning',
    place: 'file',
    details: { log: 'its name' },
    means: 'A task names a log of which the header or the binary file is missing.',
  },
  {
    code: 'taskLogCutOff',
    severity: 'warning',
    place: 'file',
    details: { log: 'its name', records: 'records read' },
    means: 'A binary log breaks off or does not fit its header; the records before are used.',
  },
  // Hand harvest
  {
    code: 'noStripColumn',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'Rows can be joined to strips neither by a strip name nor by a treatment.',
  },
  {
    code: 'noHarvestColumn',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'Neither a weight, nor a yield, nor any other number to analyse.',
  },
  {
    code: 'weightWithoutArea',
    severity: 'error',
    place: 'column',
    details: { headings: 'list' },
    means: 'A weight needs the area it came from: length and width, or area.',
  },
  {
    code: 'notPositive',
    severity: 'error',
    place: 'cell',
    details: { value: 'number', count: 'such cells' },
    means: 'A length, width or area of zero or less; or a weight below zero.',
  },
  {
    code: 'rowWithoutStrip',
    severity: 'error',
    place: 'row',
    details: { count: 'such rows' },
    means: 'Rows in which the strip, or the treatment, is blank.',
  },
  {
    code: 'otherResponsesTaken',
    severity: 'note',
    place: 'file',
    details: { headings: 'list' },
    means: 'Further numeric columns, taken as responses of their own.',
  },
  // Plot tables
  {
    code: 'responseTaken',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'No response was named; this is the only numeric column left, so it was taken.',
  },
  {
    code: 'treatmentTaken',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'No treatment column was named; this heading means it, so it was taken.',
  },
  {
    code: 'blockNotUsed',
    severity: 'note',
    place: 'column',
    details: {},
    means: 'The column looks like a block but was not named, so the trial is read as completely randomized.',
  },
  {
    code: 'blankLevel',
    severity: 'error',
    place: 'cell',
    details: { count: 'such rows' },
    means: 'The treatment or block is blank in these rows.',
  },
  {
    code: 'levelsAlike',
    severity: 'warning',
    place: 'column',
    details: { a: 'one spelling', b: 'the other' },
    means: 'Two names differ only in capitals, spaces or punctuation; they were kept as two.',
  },
  {
    code: 'subsamplesAveraged',
    severity: 'note',
    place: 'file',
    details: { rows: 'rows read', plots: 'plots made of them' },
    means: 'Rows of one treatment and block were averaged into one plot.',
  },
  {
    code: 'subsamplesSkipped',
    severity: 'note',
    place: 'column',
    details: { count: 'blank sub-samples left out of their plot’s average' },
    means: 'Blank sub-samples were left out of the averages.',
  },
  // Layouts
  {
    code: 'notJson',
    severity: 'error',
    place: 'row',
    details: { reason: 'the parser’s words, English' },
    means: 'The text is not JSON; `row` is the line where it stops, if it can be told.',
  },
  {
    code: 'notGeoJson',
    severity: 'error',
    place: 'file',
    details: { type: 'what stands under "type", or null' },
    means: 'JSON, but not a GeoJSON feature or collection of features (bare geometries have no treatment).',
  },
  {
    code: 'otherCoordinateSystem',
    severity: 'error',
    place: 'file',
    details: { name: 'as written' },
    means: 'The file names a coordinate system other than WGS 84 longitude and latitude.',
  },
  {
    code: 'layoutHasNoPolygons',
    severity: 'error',
    place: 'file',
    details: { features: 'number of features', types: 'list of geometry types seen' },
    means: 'No polygon in the layout.',
  },
  {
    code: 'featuresNotPolygons',
    severity: 'warning',
    place: 'file',
    details: {
      count: 'number',
      first: 'number of the first such feature',
      types: 'list of geometry types seen',
    },
    means: 'Features that are not polygons were left out.',
  },
  {
    code: 'ringClosed',
    severity: 'warning',
    place: 'file',
    details: { feature: 'number', count: 'rings closed' },
    means: 'A ring did not end where it began; it was closed.',
  },
  {
    code: 'ringTooShort',
    severity: 'error',
    place: 'file',
    details: { feature: 'number', positions: 'different positions in the ring' },
    means: 'A ring with fewer than four positions (three corners and the first again).',
  },
  {
    code: 'brokenCoordinates',
    severity: 'error',
    place: 'file',
    details: { feature: 'number' },
    means: 'Coordinates that are not pairs of numbers.',
  },
  {
    code: 'askWhichProperty',
    severity: 'error',
    place: 'file',
    details: { role: "'strip' | 'treatment' | 'block' | 'place'", candidates: 'list of property names' },
    means: 'Several properties answer equally well; the user must choose.',
  },
  {
    code: 'noSuchProperty',
    severity: 'error',
    place: 'file',
    details: { property: 'as named', role: "'strip' | 'treatment' | 'block'", properties: 'list' },
    means: 'A property named by the user is in no feature.',
  },
  {
    code: 'noTreatmentProperty',
    severity: 'error',
    place: 'file',
    details: { properties: 'list' },
    means: 'No property is recognised as the treatment.',
  },
  {
    code: 'featureWithoutTreatment',
    severity: 'warning',
    place: 'file',
    details: { feature: 'number', strip: 'its name or null', count: 'such features' },
    means: 'Features with no treatment are not taken as strips.',
  },
  {
    code: 'featureWithoutBlock',
    severity: 'error',
    place: 'file',
    details: { feature: 'number', strip: 'its name or null', count: 'such features' },
    means: 'The layout has blocks, but these strips are in none.',
  },
  {
    code: 'noBlockProperty',
    severity: 'note',
    place: 'file',
    details: { properties: 'list' },
    means: 'No property is recognised as the block: read as completely randomized.',
  },
  {
    code: 'stripIdTwice',
    severity: 'error',
    place: 'file',
    details: { strip: 'the name', feature: 'number', otherFeature: 'number' },
    means: 'Two features carry the same strip name.',
  },
  {
    code: 'stripIdsMade',
    severity: 'note',
    place: 'file',
    details: { count: 'strips', example: 'one of the names made' },
    means: 'Strips without a name were given one made of block, treatment and order.',
  },
  {
    code: 'cornerNotRead',
    severity: 'error',
    place: 'row',
    details: { strip: 'its name or null', count: 'such rows' },
    means: 'A corner point without a strip or without a position.',
  },
  {
    code: 'cornersDisagree',
    severity: 'error',
    place: 'cell',
    details: { strip: 'its name', a: 'what its first row says', b: 'what this row says' },
    means: 'The rows of one strip name different treatments or blocks.',
  },
  {
    code: 'checkFoundByName',
    severity: 'note',
    place: 'file',
    details: { treatment: 'name' },
    means: 'This treatment was taken as the check because of its name.',
  },
  {
    code: 'severalCheckNames',
    severity: 'note',
    place: 'file',
    details: { treatments: 'list of names' },
    means: 'Several treatments are named like a check, so none was taken.',
  },
] as const satisfies readonly IntakeProblemCodeEntry[];

export type IntakeProblemCode = (typeof INTAKE_PROBLEM_CODES)[number]['code'];

type Entry<C extends IntakeProblemCode> = Extract<(typeof INTAKE_PROBLEM_CODES)[number], { code: C }>;

/** The details of a code: exactly the keys documented above. */
export type IntakeDetails<C extends IntakeProblemCode> = {
  readonly [K in keyof Entry<C>['details']]: Problem['details'][string];
};

const SEVERITIES: ReadonlyMap<string, ProblemSeverity> = new Map(
  INTAKE_PROBLEM_CODES.map(({ code, severity }) => [code, severity]),
);

/** Names a problem of intake at its documented severity, or at the one given where a reader must stop at it. */
export function intakeProblem<C extends IntakeProblemCode>(
  code: C,
  place: ProblemPlace,
  details: IntakeDetails<C>,
  severity?: ProblemSeverity,
): Problem {
  return problem(severity ?? SEVERITIES.get(code) ?? 'error', code, place, details);
}

/**
 * What `RecognisedColumn.assumption` may hold: one of these, or several separated by a space.
 */
export const INTAKE_ASSUMPTIONS = {
  headingSaysWet: 'the heading says wet; not taken as an answer about moisture',
  headingSaysDry: 'the heading says dry; not taken as an answer about moisture',
  percentTakenForGranted: 'no unit stands in the heading; read as percent',
  degreesTakenForGranted: 'no unit stands in the heading; read as degrees',
  coordinateLetters: 'headings x and y read as longitude and latitude because the values are degrees',
  onlyCandidate: 'the only column that may hold it; the heading does not name the quantity plainly',
} as const;

export type IntakeAssumption = keyof typeof INTAKE_ASSUMPTIONS;
