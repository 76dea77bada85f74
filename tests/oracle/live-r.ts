import { WebR } from 'webr';

/** R itself (webr, R compiled to WebAssembly; runs offline in Node). Start one a test file and close it at the end. */
export interface LiveR {
  /** Evaluates R code whose value is a numeric vector. */
  readonly numbers: (code: string) => Promise<number[]>;
  readonly close: () => void;
}

export async function startR(): Promise<LiveR> {
  const webR = new WebR({ interactive: false });
  await webR.init();
  return {
    numbers: async (code) => (await webR.evalRRaw(code, 'number[]')) as number[],
    close: () => webR.close(),
  };
}

/** Numbers as an R vector with all their digits. */
export function rVector(values: readonly number[]): string {
  return `c(${values.map((value) => (Number.isFinite(value) ? value.toPrecision(17) : value > 0 ? 'Inf' : '-Inf')).join(',')})`;
}

/** Levels as an R factor, labelled by their number. */
export function rFactor(levels: readonly number[]): string {
  return `factor(${rVector(levels)})`;
}
