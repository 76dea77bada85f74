import type { AdviceByCode } from './sentence.ts';

/** Problems of application logs, and of what they say about the strips. */
export const APPLICATION_ADVICE: AdviceByCode = {
  askSwath: {
    message:
      'The log has no column with the width of the swath, so it cannot be said how much ground a point stands for (columns: {headings}).',
    whatToDo: 'Say how wide the swath was, or which column holds it.',
  },
  noAppliedRate: {
    message:
      'No column is the rate that was put out (columns: {headings}); coverage is judged, rates are not.',
    whatToDo: 'Say which column is the rate, if there is one.',
  },
  everyRowApplied: {
    message:
      'Neither a rate nor an on/off state tells where nothing was put out, so each of the {rows} rows counts as applied.',
    whatToDo: 'Check that the log was written while spraying alone, or say which column tells it.',
  },
  sprayStateNotRead: {
    message: '"{text}" says neither on nor off ({count} such cells); these rows go by their rate.',
    whatToDo: 'Write on and off, or 1 and 0.',
  },
  rateImpossible: {
    message: 'A rate of {value} is not possible ({count} such rows); it counts as nothing put out.',
    whatToDo: 'Look at the log where this happens, and at the column that is taken for the rate.',
  },
  nothingApplied: {
    message: 'None of the {rows} rows says that anything was put out.',
    whatToDo: 'Check which columns are taken for the rate and for the on/off state.',
  },
  notAnApplication: {
    message: 'Application logs are not read from ISO 11783-10 task data.',
    whatToDo: 'Export the log as a table, GeoJSON, KML or a shapefile.',
  },
};
