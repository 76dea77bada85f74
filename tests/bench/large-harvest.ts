import { closeSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { seededGenerator, shuffled } from '../../analyses/seeded-generator.ts';
import { normalDeviates } from '../calibration/random-errors.ts';

export interface LargeHarvest {
  readonly layoutFile: string;
  readonly harvestFile: string;
  readonly points: number;
  readonly strips: number;
}

const TREATMENTS = 12;
const BLOCKS = 8;
const STRIPS = TREATMENTS * BLOCKS;
/** For a million points; more points are more passes. */
const PASSES_A_STRIP = 6;
const HEADER_M = 9;
const POINTS_A_PASS = Math.floor(1_000_000 / (STRIPS * PASSES_A_STRIP));
const STEP_M = 1.5;
const LENGTH_M = POINTS_A_PASS * STEP_M;
const SEED = 9_96;
const ORIGIN = { longitude: 20, latitude: 50 };
const DEGREES_A_METRE_NORTH = 1 / 111_229;
const DEGREES_A_METRE_EAST = 1 / 71_696;
const HEADINGS =
  'Time (s),Longitude (deg),Latitude (deg),Speed (m/s),Distance (m),Heading (deg),Cutting width (m),Yield wet (t/ha),Moisture (%)';

/** Millions of points of 9 columns over 96 strips of six passes a million, driven back and forth; and the strips' layout. */
export function writeLargeHarvest(folder: string, millions = 1): LargeHarvest {
  const random = seededGenerator(SEED);
  const treatmentOfStrip = Array.from({ length: BLOCKS }, () => shuffled(TREATMENTS, random)).flat();
  const layoutFile = join(folder, `layout-${millions}.geojson`);
  const harvestFile = join(folder, `harvest-${millions}.csv`);
  const passesAStrip = PASSES_A_STRIP * millions;
  writeFileSync(layoutFile, JSON.stringify(layoutOf(treatmentOfStrip, passesAStrip * HEADER_M)));
  const points = 1_000_000 * millions;
  writeHarvest(harvestFile, { points, passesAStrip, treatmentOfStrip }, normalDeviates(random));
  return { layoutFile, harvestFile, points, strips: STRIPS };
}

function layoutOf(treatmentOfStrip: readonly number[], stripM: number) {
  const features = treatmentOfStrip.map((treatment, strip) => {
    const [west, east] = [strip * stripM, (strip + 1) * stripM];
    const ring = [
      [west, 0],
      [east, 0],
      [east, LENGTH_M],
      [west, LENGTH_M],
      [west, 0],
    ].map(([x, y]) => degrees(x!, y!));
    return {
      type: 'Feature',
      properties: { treatment: `T${treatment + 1}`, block: `B${Math.floor(strip / TREATMENTS) + 1}` },
      geometry: { type: 'Polygon', coordinates: [ring] },
    };
  });
  return { type: 'FeatureCollection', features };
}

function degrees(eastM: number, northM: number): [number, number] {
  return [ORIGIN.longitude + eastM * DEGREES_A_METRE_EAST, ORIGIN.latitude + northM * DEGREES_A_METRE_NORTH];
}

interface Driven {
  readonly points: number;
  readonly passesAStrip: number;
  readonly treatmentOfStrip: readonly number[];
}

/** What is left over of the points runs on behind the last pass. */
function writeHarvest(
  path: string,
  { points, passesAStrip, treatmentOfStrip }: Driven,
  normal: () => number,
): void {
  const file = openSync(path, 'w');
  writeSync(file, `${HEADINGS}\n`);
  const passes = STRIPS * passesAStrip;
  for (let pass = 0; pass < passes; pass++) {
    const count = pass === passes - 1 ? points - (passes - 1) * POINTS_A_PASS : POINTS_A_PASS;
    const strip = Math.floor(pass / passesAStrip);
    const level = 8 + 0.1 * treatmentOfStrip[strip]! + 0.2 * normal();
    const lines = Array.from({ length: count }, (_, i) => lineOf(pass, i, level, normal));
    writeSync(file, `${lines.join('\n')}\n`);
  }
  closeSync(file);
}

function lineOf(pass: number, i: number, level: number, normal: () => number): string {
  const isNorthward = pass % 2 === 0;
  const alongM = (i + 0.5) * STEP_M;
  const [longitude, latitude] = degrees(
    (pass + 0.5) * HEADER_M + 0.05 * normal(),
    isNorthward ? alongM : LENGTH_M - alongM,
  );
  const speed = STEP_M + 0.02 * normal();
  const time = pass * (POINTS_A_PASS + 20) + i;
  return [
    time,
    longitude.toFixed(7),
    latitude.toFixed(7),
    speed.toFixed(2),
    STEP_M.toFixed(2),
    isNorthward ? 0 : 180,
    HEADER_M.toFixed(1),
    (level * (1 + 0.08 * normal())).toFixed(3),
    (15 + 0.3 * normal()).toFixed(1),
  ].join(',');
}
