import type { ColumnRole } from '../../intake/recognition.ts';
import type { HarvestFile } from '../../trial/trial-document.ts';

const MASS = ['kg', 'g', 't', 'lb', 'bu'];
const LENGTH = ['m', 'ft', 'in', 'cm'];

const UNITS: Readonly<Partial<Record<ColumnRole, readonly string[]>>> = {
  yield: ['t/ha', 'kg/ha', 'dt/ha', 'bu/ac', 'lb/ac'],
  massFlow: ['kg/s', 'lb/s', 't/h', 'kg/h', 'lb/h'],
  mass: MASS,
  moisture: ['%', 'share'],
  speed: ['m/s', 'km/h', 'mph', 'ft/s'],
  distance: LENGTH,
  width: LENGTH,
  weight: MASS,
  length: LENGTH,
  area: ['m2', 'ha', 'ac', 'ft2'],
  appliedFlow: ['L/min', 'L/s', 'kg/s', 'kg/min', 'gal/min', 'lb/min', 'seeds/s'],
  appliedRate: [
    ...['L/ha', 'mL/ha', 'kg/ha', 'g/ha', 't/ha'],
    ...['gal/ac', 'qt/ac', 'pt/ac', 'fl oz/ac', 'lb/ac', 'oz wt/ac'],
    ...['seeds/ha', 'seeds/m2', 'seeds/ac', '1000 seeds/ac'],
  ],
};

/** The units that a person may choose for a column of this role; none where it holds text, places or times. */
export function unitsOffered(role: ColumnRole): readonly string[] {
  return UNITS[role] ?? [];
}

const POINT_ROLES: readonly ColumnRole[] = [
  'longitude',
  'latitude',
  'yield',
  'massFlow',
  'mass',
  'moisture',
  'speed',
  'distance',
  'width',
  'heading',
  'time',
  'headerState',
  'machine',
  'operator',
  'day',
];

const HAND_ROLES: readonly ColumnRole[] = [
  'strip',
  'treatment',
  'block',
  'weight',
  'yield',
  'moisture',
  'length',
  'width',
  'area',
];

/** What a log of the application may hold; areas bring their own places. */
export const LOG_ROLES: readonly ColumnRole[] = [
  'longitude',
  'latitude',
  'width',
  'time',
  'speed',
  'appliedRate',
  'appliedFlow',
  'product',
  'sprayState',
];
export const LOGGED_AREA_ROLES: readonly ColumnRole[] = ['appliedRate', 'product', 'sprayState'];

/** The quantities that a file of this kind may hold, in the order in which they are shown. */
export function rolesOf(kind: HarvestFile['kind']): readonly ColumnRole[] {
  return kind === 'points' ? POINT_ROLES : HAND_ROLES;
}
