import { chanceOfFalseReal, whyDecides } from '../words/deciding-sentences.ts';
import type { AnalysedResponse } from './analysed-response.ts';
import type { Decided } from './deciding-procedure.ts';
import type { ReportResponse } from './report-model.ts';

/** What decided, why, and how often it calls equal treatments different. */
export function decidedByOf(decided: Decided, analysed: AnalysedResponse): ReportResponse['decidedBy'] {
  const { procedure, chanceOfOneFalseReal } = decided;
  return { procedure, why: why(decided, analysed), chanceOfOneFalseReal };
}

function why(decided: Decided, { judging, design }: AnalysedResponse): string {
  return whyDecides({
    procedure: decided.procedure,
    comparisons: decided.real.length,
    treatments: design.treatments.length,
    alpha: judging.alpha,
    chosen: judging.decidedBy !== 'auto',
    significantF: decided.significantF,
  });
}

/**
 * Where pairs are judged without guard for their number, the answer states the chance of a false Real; where the F test
 * forbids to call anything real, it says so.
 */
export function procedureReasons(decided: Decided | null, analysed: AnalysedResponse): readonly string[] {
  if (decided === null) return [];
  const comparisons = decided.real.length;
  const forbidden = decided.significantF === false ? [why(decided, analysed)] : [];
  const unguarded = comparisons > 1 && !guardsTheirNumber(decided);
  const chance = chanceOfFalseReal(decided.procedure, decided.chanceOfOneFalseReal, comparisons);
  return unguarded ? [...forbidden, chance] : forbidden;
}

/** Whether the procedure holds the chance of a false Real over all comparisons together. */
export function guardsTheirNumber({ procedure }: Decided): boolean {
  return procedure !== 't' && procedure !== 'lsd' && procedure !== 'protectedLsd';
}
