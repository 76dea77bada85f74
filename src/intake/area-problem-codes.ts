import type { IntakeProblemCodeEntry } from './problem-code-entry.ts';

/** Of files of areas that are left out. */
export const AREA_PROBLEM_CODES = [
  {
    code: 'noAreasInFile',
    severity: 'error',
    place: 'file',
    details: {},
    means: 'A table, a workbook or task data, where polygons were asked for.',
  },
  {
    code: 'areaStripUnknown',
    severity: 'error',
    place: 'file',
    details: { feature: 'number of the feature', strip: 'as written', strips: 'ids of the trial’s strips' },
    means: 'An area names one strip, and the trial has none of that name.',
  },
  {
    code: 'areaWithoutWhy',
    severity: 'error',
    place: 'file',
    details: { feature: 'number of the feature', strip: 'id', properties: 'names of the properties' },
    means: 'An area names one strip that it is cut from alone and does not say why.',
  },
  {
    code: 'areaKindNotKnown',
    severity: 'note',
    place: 'file',
    details: { count: 'areas', first: 'number of the first such feature', kind: 'its text, or null' },
    means: 'What is there is not one of the kinds that are known; taken as another, with its words.',
  },
] as const satisfies readonly IntakeProblemCodeEntry[];
