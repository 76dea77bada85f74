/**
 * Who may import whom: the table of rooms. `rooms` may be imported in full, `typeRooms` by `import type` alone;
 * `packages` names the outside packages bound to the room (a trailing `*` stands for a scope). Every room may
 * import from itself.
 */
export interface RoomRule {
  readonly rooms: readonly string[];
  readonly typeRooms: readonly string[];
  readonly packages: readonly string[];
}

const PURE_UP_TO_FINDINGS = [
  'analyses',
  'geometry',
  'trial',
  'words',
  'intake',
  'harvest',
  'planning',
  'findings',
];
const REST_FOR_UI = ['analyses', 'intake', 'harvest', 'planning', 'findings', 'pipeline'];

export const IMPORT_TABLE: Readonly<Record<string, RoomRule>> = {
  analyses: { rooms: [], typeRooms: [], packages: ['@stdlib/*', 'simple-statistics'] },
  'src/geometry': { rooms: [], typeRooms: [], packages: ['flatbush'] },
  'src/trial': { rooms: ['geometry'], typeRooms: [], packages: ['valibot'] },
  'src/words': { rooms: ['trial'], typeRooms: [], packages: [] },
  'src/intake': {
    rooms: ['trial', 'geometry'],
    typeRooms: [],
    packages: [
      'papaparse',
      'fflate',
      'shapefile',
      '@tmcw/togeojson',
      '@xmldom/xmldom',
      'read-excel-file',
      'isoxml',
      'proj4',
    ],
  },
  'src/harvest': {
    rooms: ['trial', 'geometry', 'analyses'],
    typeRooms: [],
    packages: ['simple-statistics', 'flatbush'],
  },
  'src/planning': { rooms: ['trial', 'geometry', 'analyses', 'harvest'], typeRooms: [], packages: [] },
  'src/findings': { rooms: ['trial', 'analyses', 'words'], typeRooms: ['harvest'], packages: ['valibot'] },
  'src/pipeline': { rooms: PURE_UP_TO_FINDINGS, typeRooms: [], packages: ['@noble/hashes'] },
  'src/figures': {
    rooms: ['trial', 'geometry', 'words'],
    typeRooms: ['findings', 'planning', 'harvest'],
    packages: [],
  },
  'src/export': {
    rooms: ['figures', 'trial', 'geometry', 'words'],
    typeRooms: ['findings', 'planning', 'harvest'],
    packages: ['papaparse', 'write-excel-file', 'fflate', 'danfojs'],
  },
  'src/store': { rooms: ['trial'], typeRooms: [], packages: ['idb'] },
  'src/workers': { rooms: ['pipeline', 'export'], typeRooms: PURE_UP_TO_FINDINGS, packages: ['comlink'] },
  'src/ui': {
    rooms: ['trial', 'geometry', 'words', 'figures', 'export', 'store', 'workers'],
    typeRooms: REST_FOR_UI,
    packages: ['lit', '@preact/signals-core', 'plotly.js'],
  },
  'src/server': { rooms: [], typeRooms: [], packages: ['node:*'] },
  'src/cli': {
    rooms: ['pipeline', 'export', 'words', 'trial', 'server'],
    typeRooms: ['findings'],
    packages: ['node:*'],
  },
};
