import type { IntakeProblemCodeEntry } from './problem-code-entry.ts';

/** Of logs of what a sprayer or spreader put out. */
export const APPLICATION_PROBLEM_CODES = [
  {
    code: 'askSwath',
    severity: 'error',
    place: 'file',
    details: { headings: 'list' },
    means: 'A log of points has no width column, and nobody said how wide the swath was.',
  },
  {
    code: 'noAppliedRate',
    severity: 'note',
    place: 'file',
    details: { headings: 'list' },
    means: 'No column is recognised as the rate that was put out; coverage is judged, rates are not.',
  },
  {
    code: 'everyRowApplied',
    severity: 'note',
    place: 'file',
    details: { rows: 'number' },
    means: 'Neither a rate nor a state tells where the machine put nothing out: every row counts as applied.',
  },
  {
    code: 'sprayStateNotRead',
    severity: 'warning',
    place: 'cell',
    details: { text: 'first example', count: 'such cells' },
    means: 'Words in the column of the on/off state that say neither; these rows go by their rate.',
  },
  {
    code: 'rateImpossible',
    severity: 'warning',
    place: 'cell',
    details: { value: 'number', count: 'such rows' },
    means: 'A rate below 0; such a row counts as nothing put out.',
  },
  {
    code: 'nothingApplied',
    severity: 'error',
    place: 'file',
    details: { rows: 'number' },
    means: 'No row of the log says that anything was put out.',
  },
  {
    code: 'taskDataNotApplied',
    severity: 'error',
    place: 'file',
    details: { logged: 'identifiers of the data dictionary, as numbers' },
    means: 'Task data whose logs hold no rate and no work state of an application.',
  },
  {
    code: 'rateIsSetpoint',
    severity: 'note',
    place: 'file',
    details: {},
    means: 'The log holds the rate that was demanded, not the one that was measured.',
  },
  {
    code: 'rateFromFlow',
    severity: 'note',
    place: 'column',
    details: { standing: 'rows that stood still' },
    means: 'The log has a flow per time; rates are it over width and logged speed.',
  },
  {
    code: 'rateFromFlowOnTrack',
    severity: 'note',
    place: 'column',
    details: { standing: 'rows that stood still' },
    means: 'The same, with the speed from the distance between points over the time between them.',
  },
  {
    code: 'flowWithoutSpeed',
    severity: 'warning',
    place: 'column',
    details: {},
    means: 'A flow per time without a speed or times: no rate can be had of it, only coverage.',
  },
  {
    code: 'sectionsNotPlaced',
    severity: 'warning',
    place: 'file',
    details: { count: 'records' },
    means: 'Parts of the boom were off, but the machine does not say where they lie: the whole width counts.',
  },
  {
    code: 'productNotAllocated',
    severity: 'warning',
    place: 'file',
    details: { count: 'records' },
    means:
      'The task allocates several products one after the other, and their times do not tell which it was.',
  },
  {
    code: 'boomPlaced',
    severity: 'note',
    place: 'file',
    details: { behindM: 'number', asideM: 'number, to the right' },
    means:
      'The description of the machine says where the boom lies, seen from the receiver; it is laid there.',
  },
  {
    code: 'boomNotPlaced',
    severity: 'note',
    place: 'file',
    details: {},
    means:
      'The description of the machine does not say how far the boom lies behind the receiver; it is laid at the logged position.',
  },
  {
    code: 'allocationClockUnknown',
    severity: 'warning',
    place: 'file',
    details: { count: 'records' },
    means:
      'Times of allocations carry a time zone, and nothing ties the clock of the log to one: the products cannot be told apart by time.',
  },
  {
    code: 'taskNamesAsProducts',
    severity: 'note',
    place: 'file',
    details: {},
    means: 'No task says which product was put out: the names of the tasks stand for it.',
  },
] as const satisfies readonly IntakeProblemCodeEntry[];
