import { POINT_ROLES, type RoleWords } from './quantity-words.ts';

const PLACE_AND_MOTION = ['longitude', 'latitude', 'speed', 'distance', 'width', 'heading', 'time'];

const PRODUCT: RoleWords = {
  role: 'product',
  quantity: null,
  named: [
    ['product', 'products', 'produkt', 'produit', 'producto', 'produto', 'prodotto', 'mittel'],
    ['treatment', 'treatments', 'trt', 'treat', 'behandlung', 'variante', 'traitement', 'tratamiento'],
    ['material', 'chemical', 'formulation', 'mix', 'tank'],
  ],
  beside: ['id', 'no', 'nr', 'number', 'name', 'code', 'applied', 'sprayed'],
  never: [
    ...['rate', 'dose', 'cost', 'price', 'date', 'time', 'unit', 'amount', 'total', 'density', 'type'],
    ...['volume', 'level', 'temperature', 'target', 'planned'],
  ],
};

const RATE: RoleWords = {
  role: 'appliedRate',
  quantity: 'applicationRate',
  named: [
    ['rate', 'rates', 'dose', 'dosage', 'dosis', 'aufwandmenge', 'ausbringmenge', 'taux', 'tasa', 'taxa'],
    ['population', 'saatstarke', 'saatstaerke', 'aussaatstarke', 'aussaatstaerke', 'saatdichte'],
  ],
  beside: [
    ...['applied', 'actual', 'application', 'as', 'spray', 'sprayed', 'product', 'volume', 'liquid', 'dry'],
    ...['measured', 'ist', 'mean', 'average', 'carrier', 'mass', 'seed', 'seeds', 'seeding'],
  ],
  never: [
    ...['target', 'planned', 'prescribed', 'prescription', 'set', 'goal', 'soll', 'min', 'max', 'limit'],
    ...['flow', 'error', 'total', 'sd', 'std', 'cv', 'deviation', 'yield', 'gps', 'update', 'yaw', 'turn'],
  ],
};

/** Per time: a rate where speed and width are known. */
const FLOW: RoleWords = {
  role: 'appliedFlow',
  quantity: 'applicationFlow',
  named: [['flow', 'durchfluss', 'debit', 'caudal', 'flujo', 'vazao', 'portata', 'output'], RATE.named[0]!],
  beside: RATE.beside,
  never: [
    ...RATE.never.filter((word) => word !== 'flow'),
    ...['fuel', 'kraftstoff', 'carburant', 'combustible', 'oil', 'air', 'engine'],
  ],
  needsUnit: true,
};

const STATE: RoleWords = {
  role: 'sprayState',
  quantity: null,
  named: [
    [
      'spray',
      'spraying',
      'sprayer',
      'boom',
      'applying',
      'application',
      'pump',
      'valve',
      'section',
      'spritze',
    ],
    ['state', 'status', 'working', 'active', 'master'],
  ],
  beside: ['state', 'status', 'on', 'off', 'master', 'main', 'switch', 'working', 'active'],
  never: [
    ...['rate', 'width', 'swath', 'speed', 'height', 'pressure', 'flow', 'time', 'date', 'product', 'volume'],
    ...['gps', 'fix', 'angle', 'count', 'number', 'temperature', 'header', 'id', 'name', 'quality'],
  ],
};

/** Columns of an application log: what was put where, how much of it, and whether the machine was putting out at all. */
export const APPLICATION_ROLES: readonly RoleWords[] = [
  ...POINT_ROLES.filter(({ role }) => PLACE_AND_MOTION.includes(role)),
  RATE,
  PRODUCT,
  STATE,
];

/** Where no column is a rate per area. */
export const APPLICATION_ROLES_BY_FLOW: readonly RoleWords[] = [...APPLICATION_ROLES, FLOW];
