import type { Quantity } from './known-units.ts';
import type { ColumnRole } from './recognition.ts';

/**
 * The words by which people head a quantity, in a few languages. They name the quantity; no maker's column names
 * stand here. An earlier list names it more plainly than a later one.
 */
export interface RoleWords {
  readonly role: ColumnRole;
  /** What a unit in the heading must measure; null: the column holds text, or its unit does not matter. */
  readonly quantity: Quantity | null;
  readonly named: readonly (readonly string[])[];
  /** Words beside the name that say nothing else. */
  readonly beside: readonly string[];
  /** Words that make it another quantity. */
  readonly never: readonly string[];
  /** A label that is nice to have: nothing else may stand in its heading, and of several columns the first is taken. */
  readonly isLabel?: true;
  /** A column counts only with a unit of the quantity: its words alone often mean something else. */
  readonly needsUnit?: true;
}

const NOT_MEASURED_HERE = [
  'target',
  'goal',
  'planned',
  'expected',
  'potential',
  'predicted',
  'index',
  'class',
];
const STATISTICS = [
  'std',
  'sd',
  'stdev',
  'error',
  'cv',
  'variance',
  'accuracy',
  'total',
  'cumulative',
  'accumulated',
];
export const YIELD_WORDS = [
  'yield',
  'yld',
  'ertrag',
  'kornertrag',
  'rendement',
  'rendimiento',
  'produtividade',
  'productividad',
  'rendimento',
  'opbrengst',
  'resa',
];
const MOISTURE_WORDS = [
  ...[
    'moisture',
    'moist',
    'mst',
    'feuchte',
    'feuchtigkeit',
    'kornfeuchte',
    'kornfeuchtigkeit',
    'gutsfeuchte',
    'wassergehalt',
    'vocht',
  ],
  ...['humidite', 'humedad', 'umidade', 'umidita'],
];
const WIDTH_WORDS = [
  'width',
  'wdth',
  'swath',
  'swth',
  'arbeitsbreite',
  'schnittbreite',
  'breite',
  'largeur',
  'ancho',
  'largura',
];
const WEIGHT_WORDS = ['weight', 'wt', 'mass', 'gewicht', 'masse', 'poids', 'peso'];
const WET_DRY = ['wet', 'dry', 'dried', 'feucht', 'trocken', 'humedo', 'seco'];
const GRAIN = ['grain', 'crop', 'korn', 'grano', 'harvest', 'harvested', 'combine', 'recorded', 'measured'];

const LABEL_BESIDE = ['id', 'no', 'nr', 'number', 'name', 'num', 'code', 'nummer'];

/** Coordinates in metres of a map grid, whose zone must be known. */
export const EASTING_WORDS = ['easting', 'eastings', 'rechtswert', 'ostwert'];
export const NORTHING_WORDS = ['northing', 'northings', 'hochwert', 'nordwert'];

const LONGITUDE: RoleWords = {
  role: 'longitude',
  quantity: 'angle',
  named: [
    ['longitude', 'lon', 'long', 'lng', 'longitud', 'longitudine', 'laengengrad', 'langengrad'],
    EASTING_WORDS,
  ],
  beside: ['gps', 'wgs84', 'wgs', '84', 'x', 'position', 'deg', 'utm', 'm'],
  never: [],
};
const LATITUDE: RoleWords = {
  role: 'latitude',
  quantity: 'angle',
  named: [['latitude', 'lat', 'latitud', 'latitudine', 'breitengrad'], NORTHING_WORDS],
  beside: ['gps', 'wgs84', 'wgs', '84', 'y', 'position', 'deg', 'utm', 'm'],
  never: [],
};
const YIELD: RoleWords = {
  role: 'yield',
  quantity: 'yield',
  named: [YIELD_WORDS],
  beside: [...GRAIN, ...WET_DRY, 'mass', 'volume', 'vol', 'rate'],
  never: [
    ...NOT_MEASURED_HERE,
    ...STATISTICS,
    'flow',
    'offset',
    'factor',
    'calibration',
    'quality',
    'status',
  ],
};
const MOISTURE: RoleWords = {
  role: 'moisture',
  quantity: 'percent',
  named: [MOISTURE_WORDS, ['h2o', 'mc', 'water']],
  beside: [...GRAIN, 'content', 'percent', 'at'],
  never: [...NOT_MEASURED_HERE, ...STATISTICS, 'soil', 'air', 'relative', 'standard', 'boden'],
};
const WIDTH: RoleWords = {
  role: 'width',
  quantity: 'length',
  named: [WIDTH_WORDS],
  beside: [
    ...GRAIN,
    ...WIDTH_WORDS,
    'header',
    'cut',
    'cutting',
    'working',
    'effective',
    'plot',
    'strip',
    'track',
  ],
  never: [...STATISTICS, 'row', 'tyre', 'tire'],
};
const STRIP: RoleWords = {
  role: 'strip',
  quantity: null,
  named: [
    ['strip', 'strips', 'stripid', 'streifen', 'bande', 'franja'],
    ['plot', 'plots', 'plotid', 'parcel', 'parzelle', 'placette', 'parcelle', 'parcela'],
    ['id', 'name'],
  ],
  beside: ['id', 'no', 'nr', 'number', 'name', 'num', 'code', 'nummer'],
  never: [
    ...['length', 'width', 'area', 'weight', 'mass', 'yield', 'block', 'rep', 'field', 'date', 'year'],
    ...['treatment', 'trt', 'treat', 'product', 'variety', 'hybrid', 'cultivar', 'sample'],
  ],
};
const TREATMENT: RoleWords = {
  role: 'treatment',
  quantity: null,
  named: [
    [
      ...['treatment', 'treatments', 'treat', 'trt', 'trtmt', 'trmt', 'behandlung', 'variante', 'traitement'],
      ...['modalite', 'tratamiento', 'tratamento', 'trattamento'],
    ],
    ['product', 'produkt', 'produit', 'producto', 'produto', 'mittel'],
    [
      'variety',
      'cultivar',
      'hybrid',
      'genotype',
      'entry',
      'sorte',
      'variete',
      'variedad',
      'hybride',
      'varieta',
    ],
    ['rate', 'dose', 'dosage', 'level', 'group', 'arm'],
  ],
  beside: ['id', 'no', 'nr', 'number', 'name', 'num', 'code', 'nummer'],
  never: ['cost', 'date', 'time', 'price', 'area', 'note', 'notes', 'comment'],
};
const BLOCK: RoleWords = {
  role: 'block',
  quantity: null,
  named: [
    [
      ...['block', 'blk', 'blocks', 'rep', 'reps', 'replicate', 'replication', 'wiederholung', 'wdh'],
      ...['bloc', 'repetition', 'bloque', 'repeticion', 'bloco', 'repeticao', 'blocco', 'ripetizione'],
    ],
  ],
  beside: ['id', 'no', 'nr', 'number', 'name', 'num', 'code', 'nummer'],
  never: [],
};

export const POINT_ROLES: readonly RoleWords[] = [
  LONGITUDE,
  LATITUDE,
  YIELD,
  {
    role: 'massFlow',
    quantity: 'massFlow',
    named: [
      [
        'flow',
        'massflow',
        'durchfluss',
        'massenstrom',
        'flujo',
        'flusso',
        'fluxo',
        'throughput',
        'durchsatz',
        'debit',
        'caudal',
        'vazao',
        'portata',
      ],
    ],
    beside: [...GRAIN, ...WET_DRY, ...WEIGHT_WORDS, 'rate'],
    never: [...STATISTICS, 'fuel', 'air', 'oil', 'carburant', 'kraftstoff', 'combustible'],
  },
  {
    role: 'mass',
    quantity: 'mass',
    named: [WEIGHT_WORDS],
    beside: [...GRAIN, ...WET_DRY],
    never: [...STATISTICS, ...YIELD_WORDS, 'flow', 'test', 'kernel', 'thousand', 'fuel'],
  },
  MOISTURE,
  {
    role: 'speed',
    quantity: 'speed',
    named: [
      [
        'speed',
        'spd',
        'velocity',
        'geschwindigkeit',
        'vitesse',
        'velocidad',
        'velocidade',
        'velocita',
        'snelheid',
        'fahrgeschwindigkeit',
        'arbeitsgeschwindigkeit',
      ],
    ],
    beside: ['ground', 'gps', 'vehicle', 'machine', 'travel', 'combine', 'forward'],
    never: [...STATISTICS, 'wind', 'fan', 'rotor', 'engine', 'drum'],
  },
  {
    role: 'distance',
    quantity: 'length',
    named: [['distance', 'dist', 'distancia', 'strecke', 'wegstrecke', 'distanza', 'afstand']],
    beside: ['travel', 'travelled', 'traveled', 'gps', 'logged', 'point'],
    never: [...STATISTICS, 'row', 'offset'],
  },
  WIDTH,
  {
    role: 'heading',
    quantity: 'angle',
    named: [
      ['heading', 'course', 'bearing', 'azimuth', 'fahrtrichtung', 'kurs', 'rumbo', 'cog'],
      ['direction', 'richtung', 'track', 'direccion', 'direcao', 'direzione', 'rumo', 'azimut'],
    ],
    beside: ['gps', 'travel', 'vehicle', 'true', 'deg', 'over', 'ground'],
    never: ['wind', 'width', 'id', 'no', 'number'],
  },
  {
    role: 'time',
    quantity: 'time',
    named: [
      ['time', 'timestamp', 'datetime', 'zeit', 'zeitstempel', 'uhrzeit', 'heure', 'hora', 'ora', 'elapsed'],
      ['midnight', 'mitternacht', 'minuit', 'medianoche'],
      ['date', 'datum'],
    ],
    beside: [
      'gps',
      'utc',
      'local',
      'iso',
      'date',
      'stamp',
      'elapsed',
      'logged',
      'seconds',
      'since',
      'of',
      'day',
    ],
    never: ['zone', 'interval', 'cycle', 'lag', 'delay', 'duration'],
  },
  {
    role: 'headerState',
    quantity: null,
    named: [
      ['header', 'schneidwerk', 'cabezal'],
      ['state', 'status', 'working', 'harvesting', 'cutting'],
    ],
    beside: [
      'state',
      'status',
      'position',
      'up',
      'down',
      'lowered',
      'work',
      'working',
      'header',
      'harvesting',
    ],
    never: [...WIDTH_WORDS, 'height', 'speed', 'gps', 'offset', 'fix'],
  },
  {
    role: 'machine',
    quantity: null,
    named: [
      ['machine', 'combine', 'harvester', 'vehicle', 'maschine', 'mahdrescher', 'maehdrescher'],
      ['moissonneuse', 'machine', 'cosechadora', 'colheitadeira', 'mietitrebbia'],
    ],
    beside: [...LABEL_BESIDE, 'serial'],
    never: [],
    isLabel: true,
  },
  {
    role: 'operator',
    quantity: null,
    named: [['operator', 'driver', 'fahrer', 'bediener', 'operateur', 'chauffeur', 'operador', 'operatore']],
    beside: [...LABEL_BESIDE, 'combine', 'machine'],
    never: [],
    isLabel: true,
  },
  {
    role: 'day',
    quantity: null,
    named: [['date', 'day', 'datum', 'fecha', 'jour']],
    beside: ['local', 'harvest', 'utc', 'gps'],
    never: [],
    isLabel: true,
  },
];

export const HAND_ROLES: readonly RoleWords[] = [
  STRIP,
  TREATMENT,
  BLOCK,
  YIELD,
  {
    role: 'weight',
    quantity: 'mass',
    named: [WEIGHT_WORDS],
    beside: [...GRAIN, ...WET_DRY, 'net', 'plot', 'strip', 'sample'],
    never: [
      ...NOT_MEASURED_HERE,
      ...STATISTICS.filter((w) => w !== 'total'),
      'test',
      'kernel',
      'thousand',
      'tare',
      'gross',
      '1000',
    ],
  },
  {
    role: 'length',
    quantity: 'length',
    named: [['length', 'lange', 'laenge', 'longueur', 'largo', 'comprimento', 'longitud', 'lunghezza']],
    beside: [...GRAIN, 'plot', 'strip', 'sample', 'cut'],
    never: ['ear', 'stem', 'straw'],
  },
  WIDTH,
  {
    role: 'area',
    quantity: 'area',
    named: [['area', 'flache', 'flaeche', 'surface', 'superficie']],
    beside: [...GRAIN, 'plot', 'strip', 'sample', 'cut'],
    never: ['leaf', 'index', 'diseased'],
  },
  MOISTURE,
];

/** Words of columns that count, date or place something: numbers, but no response. */
export const LABEL_WORDS: ReadonlySet<string> = new Set([
  ...['id', 'no', 'nr', 'sample', 'subsample', 'quadrat', 'row', 'range', 'column', 'col', 'pass', 'order'],
  ...['place', 'position', 'year', 'season', 'date', 'time', 'lon', 'long', 'longitude', 'lat', 'latitude'],
  ...['datum', 'jahr', 'probe', 'reihe', 'spalte', 'entry', 'index', 'pair'],
]);

export const TABLE_ROLES: readonly RoleWords[] = [TREATMENT, BLOCK, STRIP];

/** A layout as a table with one row a corner of a strip. */
export const CORNER_ROLES: readonly RoleWords[] = [LONGITUDE, LATITUDE, ...TABLE_ROLES];

/** Roles of properties in a layout; place is the strip's position across the field. */
export const LAYOUT_ROLES: Readonly<Record<'treatment' | 'block' | 'strip' | 'place', RoleWords>> = {
  treatment: TREATMENT,
  block: BLOCK,
  strip: STRIP,
  place: {
    role: 'response',
    quantity: null,
    named: [['place', 'position', 'order', 'sequence', 'seq', 'platz', 'reihenfolge', 'posicion', 'ordre']],
    beside: ['no', 'nr', 'number', 'strip', 'plot', 'across', 'field'],
    never: ['name', 'gps', 'x', 'y'],
  },
};
