import {
  HA_PER_ACRE,
  KG_PER_POUND,
  LITRES_PER_US_GALLON,
  M_PER_FOOT,
  M_PER_INCH,
  M_PER_MILE,
  M2_PER_HA,
} from '../trial/units.ts';

export type Quantity =
  | 'yield'
  | 'volumePerArea'
  | 'countPerArea'
  | 'applicationRate'
  | 'volumePerTime'
  | 'countPerTime'
  | 'applicationFlow'
  | 'massFlow'
  | 'mass'
  | 'length'
  | 'area'
  | 'speed'
  | 'percent'
  | 'angle'
  | 'time';

/**
 * A unit that intake reads, and the way to the unit used inside (kg/ha, L/ha, seeds/ha, kg/s, L/s, seeds/s, kg, m, m², m/s, %, degrees, s):
 * value × `factor`, and × pounds per bushel of the crop where `inBushels`. A rate put out
 * is read in units of mass, of volume or of seeds per area, its flow in the same per time (`measures`).
 */
export interface KnownUnit {
  readonly name: string;
  readonly quantity: Quantity;
  readonly factor: number;
  readonly inBushels: boolean;
}

interface BaseUnit {
  readonly name: string;
  readonly of: 'mass' | 'volume' | 'count' | 'length' | 'area' | 'time';
  /** In kg, litres, seeds, m, m² or s; for a bushel: kilograms per bushel of a crop with one pound per bushel. */
  readonly si: number;
  readonly spellings: readonly string[];
}

const SHORT_TON_POUNDS = 2000;
/** US customary liquid measure: 128 fluid ounces, 8 pints or 4 quarts in a gallon (NIST Handbook 44, appendix C). */
const FLUID_OUNCES_PER_GALLON = 128;
const PINTS_PER_GALLON = 8;
const QUARTS_PER_GALLON = 4;
/** Avoirdupois ounces in a pound (ibid.). */
const OUNCES_PER_POUND = 16;

/**
 * "ton" alone is left out: it is 907 kg in one country and 1000 kg in another. So is "oz", a mass and a volume.
 * Gallon, quart, pint and fluid ounce are those of the United States, since rates per acre are.
 */
const BASE_UNITS: readonly BaseUnit[] = [
  { name: 'kg', of: 'mass', si: 1, spellings: ['kg', 'kgs', 'kilo', 'kilos', 'kilogram', 'kilograms'] },
  { name: 'g', of: 'mass', si: 0.001, spellings: ['g', 'gram', 'grams'] },
  {
    name: 't',
    of: 'mass',
    si: 1000,
    spellings: ['t', 'tonne', 'tonnes', 'metricton', 'metrictons', 'megagram', 'tonnen'],
  },
  { name: 'dt', of: 'mass', si: 100, spellings: ['dt', 'q', 'qx', 'quintal', 'quintals', 'quintaux'] },
  { name: 'lb', of: 'mass', si: KG_PER_POUND, spellings: ['lb', 'lbs', 'pound', 'pounds'] },
  {
    name: 'short ton',
    of: 'mass',
    si: SHORT_TON_POUNDS * KG_PER_POUND,
    spellings: ['shortton', 'shorttons', 'uston', 'ustons'],
  },
  { name: 'bu', of: 'mass', si: KG_PER_POUND, spellings: ['bu', 'bus', 'bushel', 'bushels', 'bsh'] },
  {
    name: 'm',
    of: 'length',
    si: 1,
    spellings: ['m', 'meter', 'meters', 'metre', 'metres', 'mtr', 'metros', 'metri'],
  },
  { name: 'cm', of: 'length', si: 0.01, spellings: ['cm', 'centimeter', 'centimetre'] },
  { name: 'mm', of: 'length', si: 0.001, spellings: ['mm', 'millimeter', 'millimetre'] },
  { name: 'km', of: 'length', si: 1000, spellings: ['km', 'kilometer', 'kilometre', 'kilometers'] },
  { name: 'ft', of: 'length', si: M_PER_FOOT, spellings: ['ft', 'foot', 'feet'] },
  { name: 'in', of: 'length', si: M_PER_INCH, spellings: ['in', 'inch', 'inches'] },
  { name: 'mi', of: 'length', si: M_PER_MILE, spellings: ['mi', 'mile', 'miles'] },
  {
    name: 'm2',
    of: 'area',
    si: 1,
    spellings: ['m2', 'm²', 'sqm', 'qm', 'squaremeter', 'squaremeters', 'squaremetres'],
  },
  { name: 'ft2', of: 'area', si: M_PER_FOOT ** 2, spellings: ['ft2', 'ft²', 'sqft', 'squarefeet'] },
  { name: 'ha', of: 'area', si: M2_PER_HA, spellings: ['ha', 'hectare', 'hectares', 'hektar'] },
  { name: 'ac', of: 'area', si: HA_PER_ACRE * M2_PER_HA, spellings: ['ac', 'acre', 'acres'] },
  {
    name: 'oz wt',
    of: 'mass',
    si: KG_PER_POUND / OUNCES_PER_POUND,
    spellings: ['ozwt', 'wtoz', 'ozav', 'avoz'],
  },
  {
    name: 'L',
    of: 'volume',
    si: 1,
    spellings: ['l', 'lt', 'ltr', 'liter', 'liters', 'litre', 'litres'],
  },
  {
    name: 'mL',
    of: 'volume',
    si: 0.001,
    spellings: ['ml', 'cc', 'milliliter', 'milliliters', 'millilitres'],
  },
  {
    name: 'gal',
    of: 'volume',
    si: LITRES_PER_US_GALLON,
    spellings: ['gal', 'gals', 'gallon', 'gallons', 'usgal'],
  },
  {
    name: 'qt',
    of: 'volume',
    si: LITRES_PER_US_GALLON / QUARTS_PER_GALLON,
    spellings: ['qt', 'qts', 'quart', 'quarts'],
  },
  {
    name: 'pt',
    of: 'volume',
    si: LITRES_PER_US_GALLON / PINTS_PER_GALLON,
    spellings: ['pt', 'pts', 'pint', 'pints'],
  },
  {
    name: 'fl oz',
    of: 'volume',
    si: LITRES_PER_US_GALLON / FLUID_OUNCES_PER_GALLON,
    spellings: ['floz', 'flozs', 'fluidounce', 'fluidounces', 'flounce', 'flounces'],
  },
  {
    name: 'seeds',
    of: 'count',
    si: 1,
    spellings: [
      ...['seeds', 'seed', 'sds', 'kernels', 'kernel', 'korner', 'körner', 'koerner', 'samen', 'graines'],
      ...['semillas', 'sementes', 'semi'],
    ],
  },
  {
    name: '1000 seeds',
    of: 'count',
    si: 1000,
    spellings: ['1000seeds', '1,000seeds', 'kseeds', 'ksds', 'thousandseeds', '1000körner', '1000korner'],
  },
  { name: 's', of: 'time', si: 1, spellings: ['s', 'sec', 'secs', 'second', 'seconds', 'sek'] },
  { name: 'ms', of: 'time', si: 0.001, spellings: ['ms', 'msec', 'millisecond', 'milliseconds'] },
  { name: 'min', of: 'time', si: 60, spellings: ['min', 'mins', 'minute', 'minutes'] },
  { name: 'h', of: 'time', si: 3600, spellings: ['h', 'hr', 'hrs', 'hour', 'hours'] },
];

const WHOLE_UNITS: readonly (KnownUnit & { readonly spellings: readonly string[] })[] = [
  whole('%', 'percent', 1, ['%', 'pct', 'percent', 'prozent', 'pourcent', 'perc', 'porcentaje']),
  whole('share', 'percent', 100, ['share', 'fraction', 'ratio', '0-1']),
  whole('deg', 'angle', 1, ['deg', '°', 'degree', 'degrees', 'dd', 'grad']),
  whole('rad', 'angle', 180 / Math.PI, ['rad', 'radian', 'radians']),
  whole('km/h', 'speed', 1000 / 3600, ['kmh', 'kph', 'kmph']),
  whole('mph', 'speed', M_PER_MILE / 3600, ['mph']),
  // As spreadsheets count time; a bare "d" or "day" in a heading is a word.
  whole('days', 'time', 86_400, ['days']),
  // Digits side by side: not to be multiplied but taken apart (`number-clock.ts`).
  whole('hhmmss', 'time', 1, []),
  whole('hhmm', 'time', 1, []),
  whole('ft/s', 'speed', M_PER_FOOT, ['fps']),
  whole('t/ha', 'yield', 1000, ['mg/ha']),
  // By mass or by volume: a rate, but of which kind cannot be told, so `measures` is never true of it.
  whole('oz/ac', 'applicationRate', Number.NaN, ['oz/acre', 'ounces/ac', 'ounces/acre', 'ounce/acre']),
  whole('gal/ac', 'volumePerArea', LITRES_PER_US_GALLON / HA_PER_ACRE, ['gpa']),
  whole('gal/min', 'volumePerTime', LITRES_PER_US_GALLON / 60, ['gpm']),
];

function whole(name: string, quantity: Quantity, factor: number, spellings: readonly string[]) {
  return { name, quantity, factor, inBushels: false, spellings };
}

/** The units offered where one has to be asked for. */
export const UNITS_OFFERED: Readonly<Record<Quantity, readonly string[]>> = {
  yield: ['t/ha', 'kg/ha', 'dt/ha', 'bu/ac', 'lb/ac', 'short ton/ac', 'g/m2', 'kg/m2'],
  countPerArea: ['seeds/ha', 'seeds/m2', 'seeds/ac', '1000 seeds/ac'],
  volumePerTime: ['L/min', 'L/s', 'gal/min'],
  countPerTime: ['seeds/s', 'seeds/min'],
  applicationFlow: ['L/min', 'L/s', 'kg/s', 'kg/min', 'gal/min', 'lb/min', 'seeds/s'],
  volumePerArea: ['L/ha', 'mL/ha', 'gal/ac', 'qt/ac', 'pt/ac', 'fl oz/ac'],
  applicationRate: [
    ...['L/ha', 'mL/ha', 'kg/ha', 'g/ha', 't/ha'],
    ...['gal/ac', 'qt/ac', 'pt/ac', 'fl oz/ac', 'lb/ac', 'oz wt/ac'],
    ...['seeds/ha', 'seeds/m2', 'seeds/ac', '1000 seeds/ac'],
  ],
  massFlow: ['kg/s', 'lb/s', 't/h', 'kg/h', 'lb/h', 'bu/h'],
  mass: ['kg', 'g', 't', 'lb', 'bu', 'short ton'],
  length: ['m', 'ft', 'in', 'cm', 'mm'],
  area: ['m2', 'ha', 'ac', 'ft2'],
  speed: ['m/s', 'km/h', 'mph', 'ft/s'],
  percent: ['%', 'share'],
  angle: ['deg', 'rad'],
  time: ['s', 'min', 'h', 'ms', 'days', 'hhmmss', 'hhmm'],
};

/** The unit behind a spelling such as "t/ha", "kg ha-1", "lb_per_ac", "bushels per acre"; null: not known. */
export function findUnit(spelling: string): KnownUnit | null {
  const text = canonicalSpelling(spelling);
  const found = WHOLE_UNITS.find(({ spellings, name }) => name === text || spellings.includes(text));
  if (found !== undefined) return plain(found.name, found.quantity, found.factor, false);
  const [above, below, more] = text.split('/');
  if (above === undefined || more !== undefined) return null;
  const numerator = findBase(above);
  if (numerator === null) return null;
  // A bare "L", "pt" or "seeds" at the end of a heading is more often a word than a measure, which nothing here needs.
  if (below === undefined)
    return numerator.of === 'volume' || numerator.of === 'count'
      ? null
      : plain(numerator.name, numerator.of, numerator.si, numerator.name === 'bu');
  const denominator = findBase(below);
  return denominator === null ? null : quotient(numerator, denominator);
}

/** Does the unit measure that quantity? A rate is put out by mass, by volume or in seeds, never in bushels. */
export function measures(unit: KnownUnit | null, quantity: Quantity | null): boolean {
  if (unit === null || quantity === null) return false;
  const { quantity: own, inBushels } = unit;
  if (quantity === 'applicationRate')
    return own === 'volumePerArea' || own === 'countPerArea' || (own === 'yield' && !inBushels);
  if (quantity === 'applicationFlow')
    return own === 'volumePerTime' || own === 'countPerTime' || (own === 'massFlow' && !inBushels);
  return own === quantity;
}

function canonicalSpelling(spelling: string): string {
  return spelling
    .trim()
    .toLowerCase()
    .replace(/[\s_·*]*(ha|ac|s|h|m2|m²)\s*(?:\^?[-−]1|⁻¹)$/, '/$1')
    .replace(/[\s_·*]*m\s*(?:\^?[-−]2|⁻²)$/, '/m2')
    .replace(/[\s_]*(?:\bper\b|(?<=_)per(?=_)|\/)[\s_]*/, '/')
    .replace(/[\s_.]/g, '');
}

function findBase(text: string): BaseUnit | null {
  return BASE_UNITS.find(({ spellings }) => spellings.includes(text)) ?? null;
}

const PER_TIME: Readonly<Partial<Record<BaseUnit['of'], Quantity>>> = {
  mass: 'massFlow',
  length: 'speed',
  volume: 'volumePerTime',
  count: 'countPerTime',
};

function quotient(above: BaseUnit, below: BaseUnit): KnownUnit | null {
  const name = `${above.name}/${below.name}`;
  const inBushels = above.name === 'bu';
  if (above.of === 'mass' && below.of === 'area') {
    return plain(name, 'yield', (above.si / below.si) * M2_PER_HA, inBushels);
  }
  if (above.of === 'volume' && below.of === 'area')
    return plain(name, 'volumePerArea', (above.si / below.si) * M2_PER_HA, false);
  if (above.of === 'count' && below.of === 'area')
    return plain(name, 'countPerArea', (above.si / below.si) * M2_PER_HA, false);
  if (below.of !== 'time') return null;
  const perTime = PER_TIME[above.of];
  return perTime === undefined ? null : plain(name, perTime, above.si / below.si, inBushels);
}

function plain(name: string, quantity: Quantity, factor: number, inBushels: boolean): KnownUnit {
  return { name, quantity, factor, inBushels };
}
