import { describe, expect, it } from 'vitest';
import { readAreas } from '../../src/intake/read-areas.ts';
import { areasOfFiles, trialWithAreas } from '../../src/pipeline/areas-of-files.ts';
import { smallTrial } from '../trial/trials.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';
import { dbfFile, shpFile, source, WGS84_PRJ } from './made-files.ts';

const RING = [
  [11.5, 48.1],
  [11.5, 48.101],
  [11.501, 48.101],
  [11.501, 48.1],
  [11.5, 48.1],
] as const;
const CROSSED = [RING[0], RING[2], RING[1], RING[3], RING[0]];

interface Feature {
  readonly ring?: unknown;
  readonly properties: object;
}

function geojson(...features: readonly Feature[]): Uint8Array {
  return asBytes(
    JSON.stringify({
      type: 'FeatureCollection',
      features: features.map(({ ring = RING, properties }) => ({
        type: 'Feature',
        properties,
        geometry: { type: 'Polygon', coordinates: [ring] },
      })),
    }),
  );
}
const one = async (properties: object) =>
  taken(await readAreas(source('areas.geojson', geojson({ properties }))))[0]!;

describe('areas of a file', () => {
  it.each([
    [{ kind: 'Wet hole' }, 'wetHole', ''],
    [{ kind: 'wetHole' }, 'wetHole', ''],
    [{ Type: 'Grassed waterway', comment: 'old ditch' }, 'waterway', 'old ditch'],
    [{ REASON: 'lodged after storm' }, 'lodging', 'lodged after storm'],
    [{ name: 'Hail, July' }, 'hail', 'Hail, July'],
    [{ what: 'tree_line' }, 'treeLine', ''],
    [{ kind: 'Deer' }, 'other', 'Deer'],
    [{ kind: 'Other', note: 'a heap of stones' }, 'other', 'a heap of stones'],
    [{}, 'other', ''],
  ])('%j is %s, in the words "%s"', async (properties, reason, note) => {
    expect(await one(properties)).toMatchObject({ reason, note, strip: null });
  });

  it('say of which kind nothing is known, once', async () => {
    const read = await readAreas(
      source(
        'a.json',
        geojson({ properties: { kind: 'Hail' } }, { properties: { kind: 'Deer' } }, { properties: {} }),
      ),
    );
    expect(problemOf(read, 'areaKindNotKnown').details).toEqual({ count: 2, first: 2, kind: 'Deer' });
  });

  it('come alike from KML and a shapefile', async () => {
    const corners = RING.map(([x, y]) => `${x},${y}`).join(' ');
    const kml = `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>Waterway</name><description>grassed</description>
      <Polygon><outerBoundaryIs><LinearRing><coordinates>${corners}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`;
    const records = [{ rings: [RING], attributes: { kind: 'Waterway', note: 'grassed' } }];
    const shape = source('areas.shp', shpFile(records), {
      'areas.dbf': dbfFile(records),
      'areas.prj': asBytes(WGS84_PRJ),
    });
    for (const file of [source('areas.kml', kml), shape]) {
      const [area] = taken(await readAreas(file));
      expect(area).toMatchObject({ reason: 'waterway', note: 'grassed', strip: null });
      expect(area!.polygon.coordinates).toEqual([RING]);
    }
  });

  it('are no table', async () => {
    expect(codesOf(await readAreas(source('a.csv', 'lon,lat\n11.5,48.1\n')))).toEqual(['noAreasInFile']);
  });

  it('are numbered on from those of the trial and find their strip; one fault and none is taken', async () => {
    const trial = smallTrial();
    const file = (...features: readonly Feature[]) => [
      { name: 'areas.geojson', bytes: geojson(...features) },
    ];
    const sound = { properties: { kind: 'hail', strip: ' S2', note: 'edge of the storm' } };
    const cut = taken(await trialWithAreas(trial, file(sound, { properties: { kind: 'wet' } })));
    expect(cut.harvest.exclusions!.map(({ id, strip }) => [id, strip])).toEqual([
      ['1', 's2'],
      ['2', null],
    ]);
    const more = taken(await trialWithAreas(cut, file({ properties: { kind: 'wet' } })));
    expect(more.harvest.exclusions!.map(({ id }) => id)).toEqual(['1', '2', '3']);
    const faulty = await areasOfFiles(
      trial,
      file(
        sound,
        { properties: { kind: 'hail', strip: 's9', note: 'why' } },
        { properties: { kind: 'hail', strip: 's1' } },
      ),
    );
    expect(faulty.ok).toBe(false);
    expect(codesOf(faulty)).toEqual(['areaStripUnknown', 'areaWithoutWhy']);
    const crossed = await areasOfFiles(trial, file(sound, { ring: CROSSED, properties: { kind: 'hail' } }));
    expect(crossed.ok).toBe(false);
    expect(codesOf(crossed)).toEqual(['ringCrossesItself']);
  });
});
