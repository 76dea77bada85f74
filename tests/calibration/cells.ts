/** What is counted in the trials of a cell. */
export type Question = 'falseReal' | 'power' | 'verdicts';

export type ErrorShape = 'normal' | 'heavyTails' | 'lastTreatmentVaries' | 'checkVaries';

/** One kind of trial, drawn many times over. The standard deviation of a strip is 1, treatment 0 is the check. */
export interface Cell {
  readonly question: Question;
  /** Cells of one group form one table. */
  readonly group: string;
  readonly seed: number;
  readonly treatments: number;
  readonly blocks: number;
  /** True effect of each treatment. */
  readonly shifts: readonly number[];
  readonly errors: ErrorShape;
  /** By how much each strip across the field lies above the one before, treatment apart. */
  readonly trendPerStrip: number;
  /** Of treatments within blocks: drawn anew for every block, or A B C ... in all of them. */
  readonly order: 'randomised' | 'same';
  /** Strips without a value, as treatment and block. */
  readonly lost: readonly (readonly [treatment: number, block: number])[];
  /** Of practical sameness; also the break-even. Used for verdicts alone. */
  readonly margin: number | null;
}

export const ALPHAS = [0.05, 0.1] as const;
const FAR = 5;
/** Fixed before the first run; never changed because of a result. */
const FIRST_SEED = 20_260_000_000;

/** A cell's seed follows from what it is, so that new cells leave the draws of the others alone. */
function seedOf(groupNumber: number, treatments: number, blocks: number, variant = 0): number {
  return FIRST_SEED + groupNumber * 1_000_000 + variant * 10_000 + treatments * 100 + blocks;
}

const PLAIN = {
  errors: 'normal',
  trendPerStrip: 0,
  order: 'randomised',
  lost: [],
  margin: null,
} as const;

const between = (low: number, high: number) => Array.from({ length: high - low + 1 }, (_, i) => low + i);

function shifted(treatments: number, count: number, by: number): number[] {
  return Array.from({ length: treatments }, (_, i) => (i >= treatments - count ? by : 0));
}

type Sizes = readonly (readonly [treatments: number, blocks: number])[];

/** Blocks 3 to 8, treatments 2 to 8. */
const EVERY_SIZE: Sizes = between(2, 8).flatMap((t) => between(3, 8).map((b) => [t, b] as const));

/** All alike; one far from the rest; half of them far from the rest. */
export function falseRealCells(sizes: Sizes = EVERY_SIZE): Cell[] {
  const cell = (number: number, group: string, t: number, b: number, moved: number): Cell => ({
    ...PLAIN,
    question: 'falseReal',
    group,
    seed: seedOf(number, t, b),
    treatments: t,
    blocks: b,
    shifts: shifted(t, moved, FAR),
  });
  return [
    ...sizes.map(([t, b]) => cell(1, 'all alike', t, b, 0)),
    ...sizes.filter(([t]) => t >= 3).map(([t, b]) => cell(2, 'one far', t, b, 1)),
    ...sizes.filter(([t]) => t >= 4).map(([t, b]) => cell(3, 'half far', t, b, Math.floor(t / 2))),
  ];
}

/** Strips lost: one; two in different blocks and treatments; the check of one block. All alike otherwise. */
export function lostStripCells(): Cell[] {
  const patterns: readonly Cell['lost'][] = [
    [[1, 0]],
    [
      [1, 0],
      [2, 1],
    ],
    [[0, 0]],
  ];
  const sizes: Sizes = [
    [3, 3],
    [4, 4],
    [6, 4],
    [8, 3],
  ];
  return patterns.flatMap((lost, variant) =>
    sizes.map(([t, b]) => ({
      ...PLAIN,
      question: 'falseReal' as const,
      group: ['one strip lost', 'two strips lost', 'one check strip lost'][variant] ?? '',
      seed: seedOf(4, t, b, variant),
      treatments: t,
      blocks: b,
      shifts: shifted(t, 0, 0),
      lost,
    })),
  );
}

const TRENDS = { slight: 0.1, steep: 0.5 } as const;

/** Conditions that the methods do not assume; all treatments alike. */
const CONDITIONS: readonly (readonly [name: string, change: Partial<Cell>])[] = [
  ['normal, equal variances, randomised', {}],
  ['heavy tails (t on 3 df)', { errors: 'heavyTails' }],
  ['one treatment varies 3 times as much', { errors: 'lastTreatmentVaries' }],
  ['the check varies 3 times as much', { errors: 'checkVaries' }],
  ['trend 0.1 SD a strip, randomised', { trendPerStrip: TRENDS.slight }],
  ['trend 0.5 SD a strip, randomised', { trendPerStrip: TRENDS.steep }],
  ['trend 0.1 SD a strip, A B A B', { trendPerStrip: TRENDS.slight, order: 'same' }],
  ['trend 0.5 SD a strip, A B A B', { trendPerStrip: TRENDS.steep, order: 'same' }],
];

export function strainedCells(): Cell[] {
  const sizes: Sizes = [
    [2, 4],
    [2, 8],
    [4, 4],
    [4, 8],
    [8, 4],
    [8, 8],
  ];
  return CONDITIONS.flatMap(([group, change], variant) =>
    sizes.map(([t, b]) => ({
      ...PLAIN,
      question: 'falseReal' as const,
      group,
      seed: seedOf(5, t, b, variant),
      treatments: t,
      blocks: b,
      shifts: shifted(t, 0, 0),
      ...change,
    })),
  );
}

export function isStrained(cell: Cell): boolean {
  return cell.errors !== 'normal' || cell.trendPerStrip !== 0;
}

/** One treatment differs by so many standard errors of a difference. */
export function powerCells(): Cell[] {
  const sizes: Sizes = [
    [2, 3],
    [2, 4],
    [2, 6],
    [2, 8],
    [4, 3],
    [4, 4],
    [4, 6],
    [8, 3],
    [8, 4],
    [8, 8],
  ];
  return [2, 3, 4].flatMap((standardErrors) =>
    sizes.map(([t, b]) => ({
      ...PLAIN,
      question: 'power' as const,
      group: `true difference of ${standardErrors} standard errors`,
      seed: seedOf(6, t, b, standardErrors),
      treatments: t,
      blocks: b,
      shifts: shifted(t, 1, standardErrors * Math.sqrt(2 / b)),
    })),
  );
}

/** The true difference as a multiple of the margin. */
const TRUE_IN_MARGINS = [0, 0.5, 1, 1.5, 2] as const;

/** So wide that the two tests of equivalence never meet: at the margin each alone then decides. */
export const WIDE_MARGIN = 12;

/** All treatments differ from the check alike, by a multiple of the margin. */
export function verdictCells(): Cell[] {
  const sizes: Sizes = [
    [2, 4],
    [2, 8],
    [4, 4],
    [4, 8],
  ];
  return [1, 2, WIDE_MARGIN].flatMap((margin) =>
    TRUE_IN_MARGINS.filter((multiple) => margin < WIDE_MARGIN || multiple === 1).flatMap(
      (multiple, variant) =>
        sizes.map(([t, b]) => ({
          ...PLAIN,
          question: 'verdicts' as const,
          group: `margin ${margin} SD, true difference ${multiple} margins`,
          seed: seedOf(7, t, b, variant + 10 * margin),
          treatments: t,
          blocks: b,
          shifts: shifted(t, t - 1, multiple * margin),
          margin,
        })),
    ),
  );
}

export function everyCell(): Cell[] {
  return [...falseRealCells(), ...lostStripCells(), ...strainedCells(), ...powerCells(), ...verdictCells()];
}
