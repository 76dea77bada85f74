import { describe, expect, test } from 'vitest';
import { tableOfText } from '../../src/intake/delimited-table.ts';
import {
  type ColumnChoices,
  recogniseColumns,
  recogniseFile,
  type TableKind,
} from '../../src/intake/recognise-columns.ts';
import { asBytes, codesOf, problemOf, taken } from './as-bytes.ts';

function rolesOf(headings: readonly string[], kind: TableKind, choices: ColumnChoices = {}) {
  const row = headings.map((_, index) => `${index}.5`).join('\t');
  return recogniseColumns(taken(tableOfText(`${headings.join('\t')}\n${row}\n`, 'a.csv')), kind, choices);
}

function found(headings: readonly string[], kind: TableKind, choices: ColumnChoices = {}) {
  const { columns } = rolesOf(headings, kind, choices).recognition;
  return Object.fromEntries(columns.map(({ role, heading, readAs }) => [role, [heading, readAs]]));
}

describe('recogniseColumns', () => {
  test.each([
    [
      [
        'Longitude',
        'Latitude',
        'Yield (bu/ac)',
        'Moisture (%)',
        'Speed (mph)',
        'Swath width (ft)',
        'Distance (ft)',
      ],
      ['bu/ac', '%', 'mph', 'ft'],
    ],
    [
      ['lng', 'lat', 'yield_kg_ha', 'GRAIN MOIST', 'ground_speed_km_h', 'width_m', 'dist_m'],
      ['kg/ha', '%', 'km/h', 'm'],
    ],
    [
      [
        'Längengrad',
        'Breitengrad',
        'Ertrag [dt/ha]',
        'Feuchte [%]',
        'Geschwindigkeit [km/h]',
        'Arbeitsbreite [m]',
        'Strecke [m]',
      ],
      ['dt/ha', '%', 'km/h', 'm'],
    ],
    [
      [
        'GPS Lon',
        'GPS Lat',
        'Rendement (t/ha)',
        'Humidité (%)',
        'Vitesse (km/h)',
        'Largeur (m)',
        'Distance (m)',
      ],
      ['t/ha', '%', 'km/h', 'm'],
    ],
  ])('reads %j by quantity and unit', (headings, [yieldUnit, moistureUnit, speedUnit, lengthUnit]) => {
    const roles = found(headings, 'points');
    expect(roles).toEqual({
      longitude: [headings[0], 'deg'],
      latitude: [headings[1], 'deg'],
      yield: [headings[2], yieldUnit],
      moisture: [headings[3], moistureUnit],
      speed: [headings[4], speedUnit],
      width: [headings[5], lengthUnit],
      distance: [headings[6], lengthUnit],
    });
    expect(found([...headings].reverse(), 'points')).toEqual(roles);
  });

  test('the unit says more than the word: a yield in kg/s is a flow, in kg a mass, in kg of a strip a weight', () => {
    expect(found(['lon', 'lat', 'Yield (kg/s)'], 'points').massFlow).toEqual(['Yield (kg/s)', 'kg/s']);
    expect(found(['lon', 'lat', 'Yield (lb)'], 'points').mass).toEqual(['Yield (lb)', 'lb']);
    expect(found(['Strip', 'Yield (kg)', 'Area (m2)'], 'hand').weight).toEqual(['Yield (kg)', 'kg']);
  });

  test('other quantities with a like word are left alone', () => {
    const roles = found(
      [
        'lon',
        'lat',
        'Yield (t/ha)',
        'Target yield (t/ha)',
        'Wind speed (m/s)',
        'Speed (m/s)',
        'Soil moisture (%)',
        'Moisture (%)',
        'Header height (cm)',
      ],
      'points',
    );
    expect(roles).toMatchObject({
      yield: ['Yield (t/ha)', 't/ha'],
      speed: ['Speed (m/s)', 'm/s'],
      moisture: ['Moisture (%)', '%'],
    });
    expect(roles.headerState).toBeUndefined();
  });

  test('two yields are a question until the user chooses; wet and dry are noted, not answered', () => {
    const headings = ['lon', 'lat', 'Yield wet (t/ha)', 'Yield dry (t/ha)'];
    const open = rolesOf(headings, 'points');
    expect(open.recognition.questions).toEqual([{ role: 'yield', candidates: headings.slice(2) }]);
    expect(problemOf(open, 'askWhichColumn').details).toEqual({
      role: 'yield',
      candidates: headings.slice(2),
    });
    const settled = rolesOf(headings, 'points', { yield: { heading: 'Yield dry (t/ha)', unit: null } });
    expect(settled.problems).toEqual([]);
    expect(settled.recognition.columns.find(({ role }) => role === 'yield')).toMatchObject({
      heading: 'Yield dry (t/ha)',
      chosenByUser: true,
      assumption: 'headingSaysDry',
    });
  });

  test('a missing unit is a question, settled by a choice or by leaving the column out', () => {
    const headings = ['lon', 'lat', 'Yield', 'Speed'];
    expect(codesOf(rolesOf(headings, 'points'))).toEqual(['askUnit', 'askUnit']);
    const choices = { yield: { heading: 'Yield', unit: 't/ha' }, speed: { heading: '', unit: null } };
    expect(rolesOf(headings, 'points', choices).problems).toEqual([]);
    expect(found(headings, 'points', choices)).toMatchObject({ yield: ['Yield', 't/ha'] });
    const wrong = rolesOf(headings, 'points', { ...choices, yield: { heading: 'Yield', unit: 'mph' } });
    expect(problemOf(wrong, 'unknownUnit').details.unit).toBe('mph');
  });

  test('units taken for granted are said', () => {
    const reading = rolesOf(['lon', 'lat', 'Yield (t/ha)', 'Moisture', 'Heading'], 'points');
    const assumptions = reading.recognition.columns.map(({ role, assumption }) => [role, assumption]);
    expect(assumptions).toEqual([
      ['longitude', null],
      ['latitude', null],
      ['yield', null],
      ['moisture', 'percentTakenForGranted'],
      ['heading', 'degreesTakenForGranted'],
    ]);
  });

  test('a name that often means something else is said to be no plain one', () => {
    const said = (headings: readonly string[], role: string) =>
      rolesOf(headings, 'points').recognition.columns.find((column) => column.role === role)?.assumption;
    expect(said(['lon', 'lat', 'Yield (t/ha)', 'Track (deg)'], 'heading')).toBe('onlyCandidate');
    expect(said(['lon', 'lat', 'Yield (t/ha)', 'Course (deg)'], 'heading')).toBe(null);
  });

  test('a column that the user named and that is not there is named with the headings that are', () => {
    const reading = rolesOf(['lon', 'lat', 'Yield (t/ha)'], 'points', {
      speed: { heading: 'Sped', unit: null },
    });
    expect(problemOf(reading, 'noSuchColumn')).toMatchObject({
      column: 'Sped',
      details: { role: 'speed', headings: ['lon', 'lat', 'Yield (t/ha)'] },
    });
  });

  test('x and y are coordinates while their values are degrees, or metres of a map grid, whose zone is asked for', () => {
    const read = (row: string) =>
      taken(recogniseFile(asBytes(`x,y,Yield (t/ha)\n${row}\n`), 'a.csv', 'points', {})).recognition.columns;
    expect(read('11.5,48.2,9').map(({ role }) => role)).toEqual(['longitude', 'latitude', 'yield']);
    expect(read('684321.5,5334221.5,9').map(({ role }) => role)).toEqual(['longitude', 'latitude', 'yield']);
    expect(read('3,5,9').map(({ role }) => role)).toEqual(['yield']);
  });
});
