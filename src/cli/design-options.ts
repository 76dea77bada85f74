import type { Outcome } from '../trial/problem.ts';
import { success } from '../trial/problem.ts';
import { wrong } from './wrong-arguments.ts';

/** Options of `answer --table` that say how the trial was laid out beyond treatments and blocks. */
export const DESIGN_OPTIONS = {
  row: { type: 'string' },
  column: { type: 'string' },
  factor: { type: 'string', multiple: true },
  main: { type: 'string' },
  sub: { type: 'string' },
  covariate: { type: 'string' },
  trend: { type: 'string' },
  'trend-shape': { type: 'string' },
  transform: { type: 'string' },
  contrast: { type: 'string', multiple: true },
  rates: { type: 'boolean' },
} as const;

export const DESIGN_OPTION_NAMES = Object.keys(DESIGN_OPTIONS) as (keyof typeof DESIGN_OPTIONS)[];

export interface DesignValues {
  readonly treatment?: string | undefined;
  readonly block?: string | undefined;
  readonly row?: string | undefined;
  readonly column?: string | undefined;
  readonly factor?: readonly string[] | undefined;
  readonly main?: string | undefined;
  readonly sub?: string | undefined;
  readonly covariate?: string | undefined;
  readonly trend?: string | undefined;
  readonly 'trend-shape'?: string | undefined;
  readonly transform?: string | undefined;
  readonly contrast?: readonly string[] | undefined;
  readonly rates?: boolean | undefined;
}

export interface DesignRequest {
  readonly design: {
    readonly row: string | null;
    readonly column: string | null;
    readonly factors: readonly string[];
    readonly covariate: string | null;
    readonly trend: string | null;
  };
  readonly splitPlot: boolean;
  readonly trendShape: 'linear' | 'quadratic';
  readonly scale: 'squareRoot' | 'log' | 'angular' | null;
  readonly contrasts: readonly (readonly Weight[])[];
  readonly rates: boolean;
}

interface Weight {
  readonly treatment: string;
  readonly weight: number;
}

const SCALES = { sqrt: 'squareRoot', log: 'log', angular: 'angular' } as const;

export function designRequest(values: DesignValues): Outcome<DesignRequest> {
  const clash = clashOf(values);
  if (clash !== null) return wrong(clash);
  const shape = values['trend-shape'] ?? 'linear';
  if (shape !== 'linear' && shape !== 'quadratic')
    return wrong(`--trend-shape takes linear or quadratic, got ${shape}`);
  const scale = values.transform === undefined ? null : scaleOf(values.transform);
  if (scale === undefined) return wrong(`--transform takes sqrt, log or angular, got ${values.transform}`);
  const contrasts = (values.contrast ?? []).map(weightsOf);
  const unread = contrasts.indexOf(null);
  if (unread >= 0)
    return wrong(
      `--contrast takes treatments with weights, "A=1; B=-0.5; C=-0.5", got "${values.contrast?.[unread]}"`,
    );
  const { main, sub } = values;
  const split = main !== undefined && sub !== undefined ? [main, sub] : null;
  return success({
    design: {
      row: values.row ?? null,
      column: values.column ?? null,
      factors: split ?? values.factor ?? [],
      covariate: values.covariate ?? null,
      trend: values.trend ?? null,
    },
    splitPlot: split !== null,
    trendShape: shape,
    scale,
    contrasts: contrasts.filter((own) => own !== null),
    rates: values.rates ?? false,
  });
}

/** "A=1; B=-0.5; C=-0.5"; names may hold commas and spaces. null where it cannot be read. */
function weightsOf(text: string): readonly Weight[] | null {
  const weights = text
    .split(';')
    .filter((part) => part.trim() !== '')
    .map((part) => {
      const cut = part.lastIndexOf('=');
      const number = cut < 1 ? '' : part.slice(cut + 1).trim();
      const weight = number === '' ? Number.NaN : Number(number);
      return { treatment: part.slice(0, Math.max(cut, 0)).trim(), weight };
    });
  const sound =
    weights.length > 1 && weights.every((own) => own.treatment !== '' && Number.isFinite(own.weight));
  return sound ? weights : null;
}

function scaleOf(text: string): DesignRequest['scale'] | undefined {
  return Object.hasOwn(SCALES, text) ? SCALES[text as keyof typeof SCALES] : undefined;
}

/** Options that only make sense together, or never do. */
function clashOf(values: DesignValues): string | null {
  const { treatment, block, row, column, factor = [], main, sub, trend } = values;
  if ((row === undefined) !== (column === undefined)) return '--row and --column go together (Latin square)';
  if ((main === undefined) !== (sub === undefined)) return '--main and --sub go together (split plot)';
  if (factor.length > 0 && factor.length !== 2)
    return `--factor is given twice, once for each of two factors; got ${factor.length}`;
  if (row !== undefined && block !== undefined)
    return 'a Latin square has rows and columns in place of --block';
  if (main !== undefined && factor.length > 0)
    return 'name the two factors either by --factor or by --main and --sub';
  if (main !== undefined && row !== undefined) return 'a split plot in a Latin square is not analysed here';
  if (main !== undefined && block === undefined) return 'a split plot needs --block';
  if (treatment !== undefined && (factor.length > 0 || main !== undefined))
    return 'with two factors their combinations are the treatments: leave --treatment out';
  if (values['trend-shape'] !== undefined && trend === undefined) return '--trend-shape goes with --trend';
  return null;
}
