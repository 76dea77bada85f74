import type { Crop } from '../trial/crops.ts';
import { after, failure, type Outcome, success } from '../trial/problem.ts';
import type { HarvestFile, LayoutFile } from '../trial/trial-document.ts';
import { isOfApplication } from './applied-task-data.ts';
import { decodeText } from './decode-text.ts';
import type { DelimitedTable } from './delimited-table.ts';
import { columnsOfFeatures, tableOfPointFeatures } from './feature-table.ts';
import { wholeOf } from './file-bytes.ts';
import { contentsOf, type FileContents } from './file-contents.ts';
import { foreignCoordinateSystem } from './geojson-polygons.ts';
import type { HandHarvest, HarvestPoints } from './harvest-data.ts';
import { parseJsonText, startsLikeJson } from './json-text.ts';
import { kmlFeatures } from './kml-features.ts';
import { intakeProblem } from './problem-codes.ts';
import { type GroundOfWeights, handOfTable, readHand } from './read-hand.ts';
import { layoutOfFeatures, layoutOfTable, type ReadLayout, readLayout } from './read-layout.ts';
import { pointsOfTable, readPoints } from './read-points.ts';
import { type ColumnReading, recogniseColumns, recogniseFile } from './recognise-columns.ts';
import { shapefileFeatures, shapefileKind } from './shapefile-features.ts';
import { type FileKind, kindOfColumns, mostArePoints, sniffFile } from './sniff-file.ts';
import type { SourceFile } from './source-file.ts';
import { openTaskData } from './task-data.ts';
import { tableOfTaskData } from './task-data-table.ts';
import { tableOfWorkbook } from './workbook-table.ts';

/** What a file of any known form is: told by its content. */
export async function sniffSource(source: SourceFile): Promise<Outcome<FileKind>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  if (value.form === 'text') return sniffFile(value.bytes, source.name);
  if (value.form === 'kml') {
    return after(await kmlFeatures(value.text, source.name), (features) =>
      success(mostArePoints(features) ? 'points' : 'layout'),
    );
  }
  if (value.form === 'taskData') {
    return after(await openTaskData(value.bytes, source.name), (data) =>
      success(isOfApplication(data) ? 'application' : 'points'),
    );
  }
  if (value.form === 'shapefile') {
    return success(shapefileKind(value.parts) === 'points' ? 'points' : 'layout');
  }
  const table = await tableOfWorkbook(value.bytes, source.name);
  return table.ok ? success(kindOfColumns(table.value)) : table;
}

/** A layout of strips from GeoJSON, KML, KMZ, shapefile, or a table of corner points as text or workbook. */
export async function readLayoutSource(
  source: SourceFile,
  properties: LayoutFile['properties'],
): Promise<Outcome<ReadLayout>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  const { name } = source;
  if (value.form === 'text') return readLayout(wholeOf(value.bytes), name, properties);
  if (value.form === 'taskData') return failure(intakeProblem('taskDataNoLayout', { file: name }, {}));
  if (value.form === 'workbook') {
    return after(await tableOfWorkbook(value.bytes, name), (table) => layoutOfTable(table, name, properties));
  }
  const features: Outcome<unknown> =
    value.form === 'kml' ? await kmlFeatures(value.text, name) : await shapefileFeatures(value.parts);
  return after(features, (collection) => layoutOfFeatures(collection, name, properties));
}

/** Yield-monitor points from delimited text, GeoJSON, shapefile, workbook or ISO 11783-10 task data. */
export async function readPointsSource(
  source: SourceFile,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
): Promise<Outcome<HarvestPoints>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  if (contents.value.form === 'text' && !startsLikeJson(contents.value.bytes)) {
    return readPoints(contents.value.bytes, source.name, harvestFile, crop);
  }
  return after(await pointTable(contents.value, source.name), (table) =>
    pointsOfTable(table, askedOfPoints(table, harvestFile, source.name), crop),
  );
}

/** Weights taken by hand from delimited text or a workbook. */
export async function readHandSource(
  source: SourceFile,
  harvestFile: HarvestFile | null,
  crop: Crop | null,
  ground: GroundOfWeights = 'table',
): Promise<Outcome<HandHarvest>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  if (value.form === 'text') return readHand(wholeOf(value.bytes), source.name, harvestFile, crop, ground);
  if (value.form !== 'workbook') return failure(intakeProblem('notATable', { file: source.name }, {}));
  return after(await tableOfWorkbook(value.bytes, source.name), (table) =>
    handOfTable(table, harvestFile, crop, ground),
  );
}

/** What was understood of the columns of a file of any form that holds a table. */
export async function recogniseSource(
  source: SourceFile,
  asked: HarvestFile,
): Promise<Outcome<ColumnReading>> {
  const contents = await contentsOf(source);
  if (!contents.ok) return contents;
  const { value } = contents;
  if (value.form === 'text' && !startsLikeJson(value.bytes)) {
    return recogniseFile(value.bytes, source.name, asked.kind, asked.columns);
  }
  return after(await pointTable(value, source.name), (table) => {
    return success(recogniseColumns(table, asked.kind, columnsOfFeatures(table, asked.columns)));
  });
}

async function pointTable(contents: FileContents, file: string): Promise<Outcome<DelimitedTable>> {
  switch (contents.form) {
    case 'text':
      return tableOfJson(wholeOf(contents.bytes), file);
    case 'workbook':
      return tableOfWorkbook(contents.bytes, file);
    case 'taskData':
      return tableOfTaskData(contents.bytes, file);
    case 'shapefile':
      return after(await shapefileFeatures(contents.parts), (features) =>
        tableOfPointFeatures(features, file),
      );
    case 'kml':
      return after(await kmlFeatures(contents.text, file), (features) =>
        tableOfPointFeatures(features, file),
      );
  }
}

function tableOfJson(bytes: Uint8Array, file: string): Outcome<DelimitedTable> {
  const json = after(decodeText(bytes, file), (text) => parseJsonText(text, file));
  return after(json, (value) => {
    const foreign = foreignCoordinateSystem(value);
    if (foreign === null) return tableOfPointFeatures(value, file);
    return failure(intakeProblem('otherCoordinateSystem', { file }, { name: foreign }));
  });
}

function askedOfPoints(table: DelimitedTable, harvestFile: HarvestFile | null, path: string): HarvestFile {
  const asked: HarvestFile = harvestFile ?? { path, kind: 'points', columns: {}, yieldColumns: [] };
  return { ...asked, columns: columnsOfFeatures(table, asked.columns) };
}
