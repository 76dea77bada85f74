import type { ReportModel, ReportResponse } from '../findings/report-model.ts';
import { withUnitInHeading } from './report-table.ts';

/** How the figures of a column read. */
export type ColumnKind = 'text' | 'figure' | 'difference' | 'p' | 'chance';

export interface FurtherColumn {
  readonly heading: string;
  readonly kind: ColumnKind;
}

/** One further result of a response: a sentence, a small table, or both. */
export interface FurtherSection {
  readonly title: string;
  readonly meaning: string | null;
  readonly columns: readonly FurtherColumn[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}

/** What a response says beyond its answers, means and comparisons; only what is there. Nothing here decides. */
export function furtherSections(response: ReportResponse): readonly FurtherSection[] {
  return [...designSections(response), ...outlookSections(response)];
}

/** What its design, scale and planned questions call for. */
export function designSections(response: ReportResponse): readonly FurtherSection[] {
  return [
    ...transformationSections(response),
    ...contrastSection(response),
    ...rateSections(response),
    ...factorSections(response),
    ...differenceKindSection(response),
    ...rankedSection(response),
    ...sentenceSection('What the blocks brought', response.blocking?.meaning),
  ];
}

/** What one block, chance and more of them do to the answers. */
function outlookSections(response: ReportResponse): readonly FurtherSection[] {
  return [
    ...leftOutSection(response),
    ...chanceSections(response),
    ...sentenceSection('The best of several', response.flattery?.meaning),
    ...sentenceSection('The next trial', response.replicatesForMargin?.meaning),
  ];
}

/** All responses of a trial in one table; null where there is one alone. */
export function responsesAtAGlance({ responses }: ReportModel): FurtherSection | null {
  if (responses.length < 2) return null;
  return {
    title: 'All responses',
    meaning: null,
    columns: [
      text('Response'),
      text('Unit'),
      figure('Mean'),
      figure('CV %'),
      { heading: 'Treatment p', kind: 'p' },
      text('Called real'),
    ],
    rows: responses.map(({ name, unit, grandMean, cvPercent, anova, answers, refusal }) => {
      const real = answers.filter(({ difference }) => difference?.startsWith('Real') === true).length;
      const treatment = anova.find(({ source }) => source === 'treatment')?.p ?? null;
      const found = refusal === null ? `${real} of ${answers.length}` : 'not analysed';
      return [name, unit, grandMean, cvPercent, treatment, found];
    }),
  };
}

const text = (heading: string): FurtherColumn => ({ heading, kind: 'text' });
const figure = (heading: string): FurtherColumn => ({ heading, kind: 'figure' });
const difference = (heading: string): FurtherColumn => ({ heading, kind: 'difference' });
const p: FurtherColumn = { heading: 'p', kind: 'p' };
const df: FurtherColumn = { heading: 'df', kind: 'figure' };

function sentenceSection(title: string, meaning: string | undefined): readonly FurtherSection[] {
  return meaning === undefined ? [] : [{ title, meaning, columns: [], rows: [] }];
}

function transformationSections({ transformation }: ReportResponse): readonly FurtherSection[] {
  if (transformation === null) return [];
  const { meaning, unit, means, ratios } = transformation;
  const brought: FurtherSection = {
    title: 'Means on the scale of the response',
    meaning,
    columns: [text('Treatment'), figure(withUnitInHeading('Mean', unit)), figure('Lower'), figure('Upper')],
    rows: means.map((own) => [own.treatment, own.mean, own.lower, own.upper]),
  };
  if (ratios.length === 0) return [brought];
  return [
    brought,
    {
      title: 'Ratios',
      meaning: null,
      columns: [text('Comparison'), figure('Ratio'), figure('Lower'), figure('Upper')],
      rows: ratios.map(({ a, b, ratio, lower, upper }) => [`${a} / ${b}`, ratio, lower, upper]),
    },
  ];
}

function contrastSection({ contrasts, unit }: ReportResponse): readonly FurtherSection[] {
  if (contrasts.length === 0) return [];
  return [
    {
      title: 'Planned comparisons',
      meaning: null,
      columns: [
        text('Weights'),
        difference(withUnitInHeading('Estimate', unit)),
        figure('Std error'),
        df,
        p,
        difference('Lower'),
        difference('Upper'),
      ],
      rows: contrasts.map((own) => [
        own.weights
          .map(({ treatment, weight }) => `${treatment} = ${Number(weight.toPrecision(6))}`)
          .join('; '),
        own.estimate,
        own.standardError,
        own.df,
        own.p,
        own.lower,
        own.upper,
      ]),
    },
  ];
}

function rateSections({ rates, unit }: ReportResponse): readonly FurtherSection[] {
  if (rates === null) return [];
  const title = 'Response to the rate';
  if (rates.refusal !== null)
    return sentenceSection(title, `${rates.refusal.message} ${rates.refusal.whatWouldHelp}`);
  const coefficients = [
    ...(rates.slope === null ? [] : [['per unit of rate (line)', rates.slope] as const]),
    ...(rates.curvature === null ? [] : [['per unit of rate squared', rates.curvature] as const]),
  ];
  return [
    {
      title,
      meaning: null,
      columns: [text('Part'), df, figure('Sum of squares'), figure('F'), p],
      rows: rates.lines.map((line) => [PARTS[line.source], line.df, line.ss, line.f, line.p]),
    },
    {
      title: 'How steep',
      meaning: bestRate(rates.best),
      columns: [
        text('Coefficient'),
        figure(withUnitInHeading('Estimate', unit)),
        figure('Std error'),
        p,
        figure('Lower'),
        figure('Upper'),
      ],
      rows: coefficients.map(([name, own]) => [
        name,
        own.estimate,
        own.standardError,
        own.p,
        own.lower,
        own.upper,
      ]),
    },
  ];
}

const PARTS = { linear: 'line', quadratic: 'bend', lackOfFit: 'neither' } as const;

function bestRate(best: NonNullable<ReportResponse['rates']>['best']): string | null {
  if (best === null) return null;
  if (best.refusal !== null) return `No best rate: ${best.refusal.message} ${best.refusal.whatWouldHelp}`;
  const shown = (value: number | null) => (value === null ? 'unknown' : String(Number(value.toPrecision(4))));
  const ends =
    best.lower === null && best.upper === null
      ? 'no interval'
      : `interval ${shown(best.lower)} to ${shown(best.upper)}`;
  return `The highest response is at rate ${shown(best.rate)} (${ends}), where it is ${shown(best.response)}.`;
}

function factorSections({ factors, unit }: ReportResponse): readonly FurtherSection[] {
  return factors.flatMap(({ label, means, comparisons }) => [
    {
      title: `Means of ${label}`,
      meaning: null,
      columns: [text(label), figure('n'), figure(withUnitInHeading('Mean', unit)), figure('Std error')],
      rows: means.map((own) => [own.treatment, own.n, own.adjustedMean, own.standardError]),
    },
    {
      title: `Comparisons of ${label}`,
      meaning: null,
      columns: [
        text('Comparison'),
        text('Procedure'),
        difference(withUnitInHeading('Difference', unit)),
        figure('Std error'),
        df,
        p,
        difference('Lower'),
        difference('Upper'),
      ],
      rows: comparisons.map((own) => [
        `${own.a} - ${own.b}`,
        own.procedure,
        own.difference,
        own.standardError,
        own.df,
        own.p,
        own.lower,
        own.upper,
      ]),
    },
  ]);
}

function differenceKindSection({ differenceKinds, unit }: ReportResponse): readonly FurtherSection[] {
  if (differenceKinds.length === 0) return [];
  return [
    {
      title: 'Standard errors of differences, by kind',
      meaning: null,
      columns: [
        text('Difference of'),
        figure(withUnitInHeading('Std error', unit)),
        df,
        figure('t at the level'),
        figure(withUnitInHeading('LSD', unit)),
      ],
      rows: differenceKinds.map((own) => [own.label, own.standardError, own.df, own.criticalValue, own.lsd]),
    },
  ];
}

function rankedSection({ rankedPairs }: ReportResponse): readonly FurtherSection[] {
  if (rankedPairs === null) return [];
  return [
    {
      title: 'Pairs by ranks (after Friedman)',
      meaning: rankedPairs.meaning,
      columns: [text('Comparison'), difference('Difference of rank sums'), p],
      rows: rankedPairs.pairs.map((own) => [`${own.a} - ${own.b}`, own.difference, own.p]),
    },
  ];
}

function leftOutSection({ leaveOneBlockOut, answers }: ReportResponse): readonly FurtherSection[] {
  if (leaveOneBlockOut.length === 0) return [];
  const changing = leaveOneBlockOut.filter(({ changes }) => changes);
  const meaning =
    changing.length === 0
      ? `With each of ${leaveOneBlockOut.length} blocks left out in turn every verdict holds.`
      : `A verdict changes when one of these blocks is left out: ${changing.map(({ block }) => block).join(', ')}.`;
  const rows = changing.flatMap(({ block, comparisons }) =>
    comparisons.flatMap((one) => {
      const whole = answers.find(({ a, b }) => a === one.a && b === one.b);
      const changes = whole?.difference !== one.difference || whole.money !== one.money;
      return changes ? [[block, `${one.a} - ${one.b}`, one.estimate, one.difference, one.money]] : [];
    }),
  );
  return [
    {
      title: 'Without one block',
      meaning,
      columns:
        rows.length === 0
          ? []
          : [
              text('Without block'),
              text('Comparison'),
              difference('Difference'),
              text('Verdict'),
              text('Money'),
            ],
      rows,
    },
  ];
}

function chanceSections({ chances }: ReportResponse): readonly FurtherSection[] {
  if (chances === null) return [];
  return [
    {
      title: 'Chances',
      meaning: chances.meaning,
      columns: [text('Treatment'), { heading: 'Is the best', kind: 'chance' }],
      rows: chances.best.map((own) => [own.treatment, own.chance]),
    },
    {
      title: 'Chances of the comparisons',
      meaning: null,
      columns: [
        text('Comparison'),
        { heading: 'Is better', kind: 'chance' },
        difference('Break-even'),
        { heading: 'Beats break-even', kind: 'chance' },
      ],
      rows: chances.comparisons.map((own) => [
        `${own.a} - ${own.b}`,
        own.better,
        own.breakEven,
        own.beatsBreakEven,
      ]),
    },
  ];
}
