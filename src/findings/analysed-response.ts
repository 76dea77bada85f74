import type { PairsThatMatter } from './pairs-that-matter.ts';
import type { ResponseDesign } from './response-design.ts';
import type { ResponseFit } from './response-fit.ts';
import type { Judging, ResponsePlots, Surroundings } from './response-plots.ts';

/** Everything the later steps look at; levels are those of the design. */
export interface AnalysedResponse {
  readonly response: ResponsePlots;
  readonly judging: Judging;
  readonly surroundings: Surroundings;
  readonly design: ResponseDesign;
  readonly fitted: ResponseFit;
  /** By level, as tables name treatments. */
  readonly names: readonly string[];
  /** By level, as sentences call them. */
  readonly said: readonly string[];
  readonly matter: PairsThatMatter;
}
