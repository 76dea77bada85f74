import type { ReportResponse } from '../findings/report-model.ts';
import {
  decimalsFor,
  fixed,
  levelText,
  NO_NUMBER,
  pValue,
  signed,
  signedBound,
  significant,
} from '../words/number-formats.ts';
import { type TextColumn, textTable } from './text-table.ts';

export function anovaText({ anova }: ReportResponse): readonly string[] {
  return textTable([
    left(
      'Source',
      anova.map(({ label }) => label),
    ),
    right(
      'df',
      anova.map(({ df }) => String(df)),
    ),
    right(
      'Sum of squares',
      anova.map(({ ss }) => significant(ss, 7)),
    ),
    right(
      'Mean square',
      anova.map(({ ms }) => significant(ms, 7)),
    ),
    right(
      'F',
      anova.map(({ f }) => (f === null ? NO_NUMBER : significant(f, f < 1 ? 3 : 4))),
    ),
    right(
      'p',
      anova.map(({ p }) => pValue(p)),
    ),
  ]);
}

/** The figures that stand under the table of the analysis of variance. */
export function summaryText(response: ReportResponse): readonly string[] {
  const decimals = decimalsOf(response);
  const { grandMean, cvPercent, standardErrorOfMean, standardErrorOfDifference, lsd, detectable } = response;
  const varies = 'differs from pair to pair';
  const hasError = lsd.df !== null;
  const entries: [string, string][] = [
    ['Grand mean', fixed(grandMean, decimals)],
    ['CV', cvPercent === null ? NO_NUMBER : `${significant(cvPercent, 3)} %`],
    [
      'Standard error of a mean',
      numberOr(standardErrorOfMean, decimals + 1, hasError ? 'differs' : NO_NUMBER),
    ],
    [
      'Standard error of a difference',
      numberOr(standardErrorOfDifference, decimals + 1, hasError ? varies : NO_NUMBER),
    ],
    [`LSD at ${levelText(lsd.alpha)}`, numberOr(lsd.value, decimals + 1, hasError ? varies : NO_NUMBER)],
  ];
  if (detectable !== null)
    entries.push([
      `Detectable difference (power ${significant(detectable.power, 2)})`,
      `${fixed(detectable.difference, decimals + 1)} (true error uncertain: ${fixed(detectable.lower, decimals + 1)} to ${fixed(detectable.upper, decimals + 1)})`,
    ]);
  const width = Math.max(...entries.map(([name]) => name.length));
  return entries.map(([name, value]) => `${name.padEnd(width)}  ${value}`);
}

export function meansText(response: ReportResponse): readonly string[] {
  const { means } = response;
  const decimals = decimalsOf(response);
  const adjusted = response.design === 'incompleteBlocks';
  const procedures = Object.keys(means[0]?.letters ?? {});
  return textTable([
    left(
      'Treatment',
      means.map(({ treatment }) => treatment),
    ),
    right(
      'n',
      means.map(({ n }) => String(n)),
    ),
    right(
      'Mean',
      means.map(({ mean }) => fixed(mean, decimals)),
    ),
    ...(adjusted
      ? [
          right(
            'Adjusted',
            means.map((own) => fixed(own.adjustedMean, decimals)),
          ),
        ]
      : []),
    right(
      'Std error',
      means.map((own) => fixed(own.standardError, decimals + 1)),
    ),
    right(
      'Lower',
      means.map(({ lower }) => fixed(lower, decimals)),
    ),
    right(
      'Upper',
      means.map(({ upper }) => fixed(upper, decimals)),
    ),
    ...procedures.map((name) =>
      left(
        `By ${name}`,
        means.map(({ letters }) => letters[name] ?? ''),
      ),
    ),
  ]);
}

export function comparisonsText(response: ReportResponse): readonly string[] {
  const { comparisons } = response;
  const decimals = decimalsOf(response);
  return textTable([
    left(
      'Comparison',
      comparisons.map(({ a, b }) => `${a} - ${b}`),
    ),
    left(
      'Procedure',
      comparisons.map(({ procedure }) => procedure),
    ),
    right(
      'Difference',
      comparisons.map(({ difference }) => signed(difference, decimals)),
    ),
    right(
      'Std error',
      comparisons.map((own) => fixed(own.standardError, decimals + 1)),
    ),
    right(
      'df',
      comparisons.map(({ df }) => (df === null ? NO_NUMBER : String(df))),
    ),
    right(
      'p',
      comparisons.map(({ p }) => pValue(p)),
    ),
    right(
      'Lower',
      comparisons.map(({ lower }) => signedBound(lower, decimals)),
    ),
    right(
      'Upper',
      comparisons.map(({ upper }) => signedBound(upper, decimals)),
    ),
  ]);
}

function decimalsOf(response: ReportResponse): number {
  const errors = response.comparisons.flatMap(({ standardError }) => standardError ?? []);
  return decimalsFor(errors.length === 0 ? null : Math.min(...errors), response.grandMean);
}

function numberOr(value: number | null, decimals: number, otherwise: string): string {
  return value === null ? otherwise : fixed(value, decimals);
}

function left(heading: string, cells: readonly string[]): TextColumn {
  return { heading, align: 'left', cells };
}

function right(heading: string, cells: readonly string[]): TextColumn {
  return { heading, align: 'right', cells };
}
