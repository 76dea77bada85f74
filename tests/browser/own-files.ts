import type { Page } from '@playwright/test';
import { type MadeRecord, taskDataFiles, zipped } from '../intake/made-files.ts';

/** An invented trial, small enough to read: two treatments in five blocks, strips 12 m by 300 m, weighed by hand. */
const BLOCKS = 5;
const ORDER = [
  'Untreated',
  'Test product',
  'Test product',
  'Untreated',
  'Untreated',
  'Test product',
  'Untreated',
  'Test product',
  'Test product',
  'Untreated',
];
const WEIGHTS_KG = [2801, 2950, 2893, 2760, 2842, 2961, 2777, 2915, 2934, 2815];

const WEST = 9.5;
const SOUTH = 48.2;
const DEGREES_PER_M_EAST = 1 / (111_320 * Math.cos((SOUTH * Math.PI) / 180));
const DEGREES_PER_M_NORTH = 1 / 111_200;
const WIDTH_M = 12;
const LENGTH_M = 300;

export interface OwnFile {
  readonly name: string;
  readonly text: string;
}

export function ownLayout(): OwnFile {
  const features = ORDER.map((treatment, index) => ({
    type: 'Feature',
    properties: {
      strip: String(index + 1),
      treatment,
      block: String(Math.floor(index / 2) + 1),
      place: index + 1,
    },
    geometry: { type: 'Polygon', coordinates: [rectangle(index)] },
  }));
  return { name: 'own-strips.geojson', text: JSON.stringify({ type: 'FeatureCollection', features }) };
}

/** The same strips with properties whose names say nothing: the user must say which is the treatment. */
export function layoutInOwnWords(): OwnFile {
  const { name, text } = ownLayout();
  return { name, text: text.replaceAll('"treatment":', '"what":') };
}

/** The same strips as KML 2.3 (OGC 12-007r2): placemarks with extended data. */
export function ownLayoutAsKml(): OwnFile {
  const placemarks = ORDER.map((treatment, index) => {
    const data = { strip: index + 1, treatment, block: Math.floor(index / 2) + 1, place: index + 1 };
    const values = Object.entries(data).map(
      ([key, value]) => `<Data name="${key}"><value>${value}</value></Data>`,
    );
    const ring = rectangle(index).map((corner) => corner.join(','));
    return `<Placemark><ExtendedData>${values.join('')}</ExtendedData><Polygon><outerBoundaryIs><LinearRing><coordinates>${ring.join(' ')}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`;
  });
  return {
    name: 'own-strips.kml',
    text: `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${placemarks.join('')}</Document></kml>`,
  };
}

function rectangle(index: number): number[][] {
  const west = WEST + index * WIDTH_M * DEGREES_PER_M_EAST;
  const east = west + WIDTH_M * DEGREES_PER_M_EAST;
  const north = SOUTH + LENGTH_M * DEGREES_PER_M_NORTH;
  return [
    [west, SOUTH],
    [east, SOUTH],
    [east, north],
    [west, north],
    [west, SOUTH],
  ];
}

export function ownWeights(): OwnFile {
  const rows = WEIGHTS_KG.map((weight, index) => `${index + 1},${weight},14.${index % 5},300,12`);
  return {
    name: 'own-weights.csv',
    text: ['strip,weight (kg),moisture (%),length (m),width (m)', ...rows, ''].join('\n'),
  };
}

/** A second table of the same strips, with another response. */
export function ownProtein(): OwnFile {
  const rows = WEIGHTS_KG.map((_, index) => `${index + 1},${11 + ((3 * index) % 7) / 10}`);
  return { name: 'own-protein.csv', text: ['strip,protein (%)', ...rows, ''].join('\n') };
}

/** The same table with a second column that may as well be the weight: nothing may be guessed. */
export function weightsTwice(): OwnFile {
  const { name, text } = ownWeights();
  const [head = '', ...rows] = text.trimEnd().split('\n');
  const doubled = rows.map((row) => `${row},${row.split(',')[1]}`);
  return {
    name,
    text: [`${head},weight B (kg)`, ...doubled, ''].join('\n').replace('weight (kg)', 'weight A (kg)'),
  };
}

/** The same table with a word where a weight should stand, in the fourth row of the file. */
export function weightsWithMistake(): OwnFile {
  const { name, text } = ownWeights();
  return { name, text: text.replace('3,2893,', '3,heavy,') };
}

const LOGGED_EVERY_S = 1;
const SPEED_M_PER_S = 1.5;

/**
 * One pass of a combine up and down each strip, over ground whose yield changes along the strip alike in all of them;
 * the monitor shows it so many seconds late.
 */
export function ownPoints(lateS: number): OwnFile {
  const rows: string[] = [];
  let time = 0;
  for (let index = 0; index < OWN_STRIPS; index += 1) {
    const goesNorth = index % 2 === 0;
    for (let drivenM = 0; drivenM <= LENGTH_M; drivenM += SPEED_M_PER_S * LOGGED_EVERY_S) {
      const sensedM = drivenM - lateS * SPEED_M_PER_S;
      const along = (m: number) => (goesNorth ? m : LENGTH_M - m);
      const yieldTPerHa =
        8 +
        1.1 * Math.sin(along(sensedM) / 11) +
        0.7 * Math.sin(along(sensedM) / 5.3) +
        (ORDER[index] === 'Untreated' ? 0 : 0.3);
      const noise = 0.1 * Math.sin(1e4 * (index + 1) * (drivenM + 1));
      const longitude = WEST + (index + 0.5) * WIDTH_M * DEGREES_PER_M_EAST;
      const latitude = SOUTH + along(drivenM) * DEGREES_PER_M_NORTH;
      rows.push(
        [
          time,
          longitude.toFixed(8),
          latitude.toFixed(8),
          (yieldTPerHa + noise).toFixed(3),
          9,
          SPEED_M_PER_S * LOGGED_EVERY_S,
        ].join(','),
      );
      time += LOGGED_EVERY_S;
    }
    time += 30;
  }
  return {
    name: 'own-points.csv',
    text: ['time (s),longitude,latitude,yield (t/ha),width (m),distance (m)', ...rows, ''].join('\n'),
  };
}

/**
 * The log of a sprayer that went up every strip of the test product under a trade name of its own, without saying how
 * wide it sprayed; it shut off between 100 and 140 m in strip 2, and put 60 m on the untreated strip 5.
 */
export function ownLog(): OwnFile {
  const rows: string[] = [];
  ORDER.forEach((treatment, index) => {
    for (let drivenM = 0; drivenM < LENGTH_M; drivenM += 2) {
      const isOn =
        treatment === 'Untreated'
          ? index === 4 && drivenM < 60
          : !(index === 1 && drivenM >= 100 && drivenM < 140);
      if (treatment === 'Untreated' && index !== 4) continue;
      const longitude = WEST + (index + 0.5) * WIDTH_M * DEGREES_PER_M_EAST;
      const latitude = SOUTH + drivenM * DEGREES_PER_M_NORTH;
      rows.push(
        [
          index * 1000 + drivenM,
          longitude.toFixed(8),
          latitude.toFixed(8),
          isOn ? 16 : 0,
          'Trial mix 7',
        ].join(),
      );
    }
  });
  return {
    name: 'own-log.csv',
    text: ['time (s),longitude,latitude,applied rate (gal/ac),product', ...rows, ''].join('\n'),
  };
}

/** The same as one area for each sprayed strip, 1 m east of the plan. */
export function ownLoggedAreas(): OwnFile {
  const features = ORDER.flatMap((treatment, index) => {
    if (treatment === 'Untreated') return [];
    const ring = rectangle(index).map(([longitude = 0, latitude = 0]) => [
      longitude + DEGREES_PER_M_EAST,
      latitude,
    ]);
    const properties = { product: treatment, 'rate (L/ha)': 150 };
    return [{ type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [ring] } }];
  });
  return { name: 'own-areas.geojson', text: JSON.stringify({ type: 'FeatureCollection', features }) };
}

/** The same as ISO 11783-10 task data; in strip 3 the right half of the boom shut off between 100 and 140 m. */
export function ownTaskData(): { readonly name: string; readonly bytes: Uint8Array } {
  const records = ORDER.flatMap((treatment, index) => {
    if (treatment === 'Untreated') return [];
    return Array.from({ length: LENGTH_M / 2 }, (_, t): MadeRecord => {
      const isHalf = index === 2 && t >= 50 && t < 70;
      return {
        second: index * 1000 + t,
        longitude: WEST + (index + 0.5) * WIDTH_M * DEGREES_PER_M_EAST,
        latitude: SOUTH + 2 * t * DEGREES_PER_M_NORTH,
        // 1,500,000 × 0.01 mm³/m² = 150 L/ha; two bits a section, the leftmost the lowest.
        values: { 0: 1_500_000, 1: WIDTH_M * 1000, 2: isHalf ? 0b0001 : 0b0101 },
      };
    });
  });
  const section = (id: number, acrossMm: number) =>
    `<DET A="DET-${id}" B="${id}" C="4" E="${id}" F="2"><DOR A="30"/><DOR A="${40 + id}"/></DET><DPT A="${40 + id}" B="0087" C="${acrossMm}"/>`;
  const described = `<PDT A="PDT1" B="Trial mix 7"/><DVC A="DVC-1" C="1" D="A0" F="31" G="FF"><DET A="DET-1" B="1" C="1" E="0" F="0"/><DET A="DET-2" B="2" C="2" E="1" F="1"/>${section(3, -3000)}${section(4, 3000)}<DPT A="30" B="0043" C="6000"/></DVC>`;
  const logged = ['0002', '0043', '00A1'].map((ddi) => ({ ddi, device: 'DET-2' }));
  const inTask = '<PAN A="PDT1" E="DET-2"/>';
  return { name: 'own-tasks.zip', bytes: zipped(taskDataFiles(logged, records, { described, inTask })) };
}

export const OWN_STRIPS = BLOCKS * 2;

/** Drops files onto the page as a file manager does. */
export async function dropFiles(page: Page, files: readonly OwnFile[]): Promise<void> {
  const transfer = await page.evaluateHandle((list) => {
    const data = new DataTransfer();
    for (const { name, text } of list) data.items.add(new File([text], name));
    return data;
  }, files);
  await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
  await transfer.dispose();
}

/** The same for files that are no text. */
export async function dropParts(
  page: Page,
  files: readonly { readonly name: string; readonly bytes: Uint8Array }[],
): Promise<void> {
  const transfer = await page.evaluateHandle(
    (list) => {
      const data = new DataTransfer();
      for (const { name, bytes } of list) data.items.add(new File([Uint8Array.from(bytes)], name));
      return data;
    },
    files.map(({ name, bytes }) => ({ name, bytes: [...bytes] })),
  );
  await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}
