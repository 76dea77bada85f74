import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { type MachineOfStrip, machineInModel, machineNames } from './machine-term.ts';
import { isReportRefusal } from './report-refusal.ts';
import { designOf } from './response-design.ts';
import { fitResponse } from './response-fit.ts';
import type { ResponsePlots } from './response-plots.ts';

/**
 * The machine as a term of the model: said where it was asked for and nobody knows two machines, offered where it was
 * not asked for and the model of a response carries it without losing a strip.
 */
export function machineNotes(
  trial: TrialDocument,
  machines: MachineOfStrip | null,
  plotsOf: (trial: TrialDocument) => readonly ResponsePlots[],
): Problem[] {
  const names = machineNames(machines);
  if (trial.inference.machineTerm) return names.length < 2 ? [problem('warning', 'machinesNotKnown')] : [];
  if (names.length < 2 || trial.inference.factors?.split) return [];
  const asked = { ...trial, inference: { ...trial.inference, machineTerm: true } };
  return plotsOf(asked).some(carriesMachine)
    ? [problem('note', 'machineCanBeTerm', {}, { machines: names })]
    : [];
}

function carriesMachine(response: ResponsePlots): boolean {
  const design = designOf(response);
  const isComplete = response.plots.every(
    ({ deviation, machine }) => deviation === null || (machine ?? null) !== null,
  );
  if (!isComplete || machineInModel(response, design.plots).term === null) return false;
  const fitted = fitResponse(response, design);
  return !isReportRefusal(fitted) && fitted.fit.error.df > 0;
}
