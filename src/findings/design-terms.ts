import type { CovariateTerm, FactorTerm, ModelTerm } from '../../analyses/model-terms.ts';
import { groupingsOf, machineInModel } from './machine-term.ts';
import { factorOf } from './plot-factors.ts';
import type { ResponseDesign } from './response-design.ts';
import { PLAIN_MODEL, type Plot, type ResponsePlots } from './response-plots.ts';

/** Terms of a response's model, in the order in which the table of the analysis of variance lists them. */
export interface DesignTerms {
  /** Beside the treatments, a trend apart. */
  readonly surroundings: readonly ModelTerm[];
  readonly trend: readonly CovariateTerm[];
  readonly treatment: FactorTerm;
  /** The same treatments as two factors and their interaction; null where they are not. */
  readonly factors: readonly ModelTerm[] | null;
}

export function designTerms(response: ResponsePlots, design: ResponseDesign): DesignTerms {
  const model = response.model ?? PLAIN_MODEL;
  const { plots } = design;
  const groupings = groupingsOf(response, plots);
  const { term: machine } = machineInModel(response, plots);
  return {
    surroundings: [
      ...groupings,
      ...(machine === null ? [] : [machine]),
      ...(model.covariate === null
        ? []
        : [
            covariateOf(
              'covariate',
              plots.map(({ covariate }) => covariate ?? 0),
            ),
          ]),
    ],
    trend: model.trend === null ? [] : trendTerms(plots, model.trend.shape === 'quadratic'),
    treatment: {
      kind: 'factor',
      id: 'treatment',
      levelOfPlot: design.treatmentOfPlot,
      levelCount: design.treatments.length,
    },
    factors: model.factors === null ? null : factorTerms(plots),
  };
}

function factorTerms(plots: readonly Plot[]): ModelTerm[] {
  return [
    factorOf('factorA', plots, ({ factorA }) => factorA),
    factorOf('factorB', plots, ({ factorB }) => factorB),
    { kind: 'interaction', id: 'factorA:factorB', factors: ['factorA', 'factorB'] },
  ];
}

/** The square is taken about the middle of the field, so that both terms stay apart. */
function trendTerms(plots: readonly Plot[], quadratic: boolean): CovariateTerm[] {
  const places = plots.map(({ place }) => place ?? 0);
  const middle = places.reduce((sum, place) => sum + place / places.length, 0);
  const line = covariateOf('trend', places);
  return quadratic
    ? [
        line,
        covariateOf(
          'trendSquared',
          places.map((place) => (place - middle) ** 2),
        ),
      ]
    : [line];
}

function covariateOf(id: string, valueOfPlot: readonly number[]): CovariateTerm {
  return { kind: 'covariate', id, valueOfPlot };
}
