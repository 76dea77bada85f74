import type { ResponseOfStrips, StripValue } from '../harvest/strip-values.ts';
import { changedAfterSeeing } from '../trial/changed-after-seeing.ts';
import { yieldUnit } from '../trial/display-units.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { assumptionSentence } from '../words/assumption-sentences.ts';
import { MONEY_FROM_YIELD_ALONE } from '../words/money-sentences.ts';
import { designFaults } from './design-faults.ts';
import { machineNotes } from './machine-notes.ts';
import type { MachineOfStrip } from './machine-term.ts';
import { REPORT_VERSION, type ReportModel, type ReportTrial } from './report-model.ts';
import { reportProblems } from './report-problems.ts';
import type { ResponsePlots, Surroundings } from './response-plots.ts';
import { reportResponse } from './response-report.ts';
import { setAsideShares } from './set-aside-shares.ts';
import { moneyTerms } from './strip-money.ts';
import { reportStrips } from './strip-rows.ts';
import { distinctNames } from './treatment-names.ts';
import { blocksAreUsed, judgingOfTrial, plotsOfTrial } from './trial-plots.ts';
import { trialSettings } from './trial-settings.ts';
import {
  applicationWeaknesses,
  harvestWeaknesses,
  layoutWeaknesses,
  yieldWeaknesses,
} from './trial-weaknesses.ts';
import { reportWeighed, type WeighedLoads } from './weighed-rows.ts';

export interface StripReportInput {
  readonly trial: TrialDocument;
  /** Version of the program. */
  readonly madeBy: string;
  readonly files: ReportTrial['files'];
  /** SI, as harvest hands them over; a strip of the trial that is not listed counts as lost. */
  readonly strips: readonly StripValue[];
  readonly responses: readonly ResponseOfStrips[];
  readonly weighed: WeighedLoads | null;
  /** Machine of each strip of the trial that one machine cut alone; null: nobody knows. */
  readonly machines?: MachineOfStrip | null;
  readonly problems: readonly Problem[];
  readonly assumptions: readonly { readonly code: string; readonly details: Problem['details'] }[];
}

/** A response in the unit that people read it in: shown = SI x perSi. */
interface ShownResponse {
  readonly own: ResponseOfStrips;
  readonly unit: string | null;
  readonly perSi: number;
}

/**
 * The report of a trial from one value a strip: the strip is the experimental unit, whatever number of points or
 * samples it was made of. Yields are turned into the trial's unit here, at the edge.
 */
export function reportFromStrips(input: StripReportInput): ReportModel {
  const { trial } = input;
  const blocked = blocksAreUsed(trial);
  const shown = input.responses.map((own) => shownResponse(own, trial));
  const valueByStrip = new Map(input.strips.map((strip) => [strip.strip, strip]));
  const faults = designFaults(trial);
  const reported = (faults.length > 0 ? [] : shown).map((response) =>
    reportResponse(
      responsePlots(response, input, valueByStrip),
      judgingOfTrial(trial, response.own.quantity === 'yield' ? response.perSi : null),
      surroundingsOf(response, input, valueByStrip),
    ),
  );
  const plots = (asked: TrialDocument) =>
    shown.map((response) => responsePlots(response, { ...input, trial: asked }, valueByStrip));
  const ofMachines = faults.length > 0 ? [] : machineNotes(trial, input.machines ?? null, plots);
  const own = [
    ...faults,
    ...blockProblems(trial, blocked),
    ...ofMachines,
    ...reported.flatMap(({ problems }) => problems),
  ];
  return {
    version: REPORT_VERSION,
    madeBy: input.madeBy,
    trial: reportTrial(input),
    problems: reportProblems([...input.problems, ...own]),
    strips: reportStrips(trial, valueByStrip, shown, blocked),
    responses: reported.map(({ report }) => report),
    weighed: reportWeighed(trial, input.weighed),
  };
}

function reportTrial({ trial, files, assumptions }: StripReportInput): ReportTrial {
  return {
    name: trial.name,
    crop: trial.crop,
    design: designOfTrial(trial),
    unitSystem: trial.unitSystem,
    files,
    settings: trialSettings(trial),
    assumptions: assumptions.map(({ code, details }) => assumptionSentence(code, details)),
    changedAfterSeeing: [...changedAfterSeeing(trial)],
  };
}

function designOfTrial({ design, inference }: TrialDocument): ReportTrial['design'] {
  if (inference.square) return 'latinSquare';
  return inference.factors?.split ? 'splitPlot' : design;
}

function shownResponse(own: ResponseOfStrips, trial: TrialDocument): ShownResponse {
  if (own.quantity === 'other') return { own, unit: own.unit, perSi: 1 };
  if (own.quantity === 'moisture') return { own, unit: '%', perSi: 1 };
  const unit = yieldUnit(trial);
  return { own, unit: unit.label, perSi: unit.perSi };
}

function responsePlots(
  { own, unit, perSi }: ShownResponse,
  { trial, machines = null }: Pick<StripReportInput, 'trial' | 'machines'>,
  valueByStrip: ReadonlyMap<string, StripValue>,
): ResponsePlots {
  const better = own.quantity === 'moisture' ? 'lower' : 'higher';
  const values = trial.strips.map(({ id }) => {
    const value = valueByStrip.get(id)?.values[own.name] ?? null;
    return value === null ? null : value * perSi;
  });
  return plotsOfTrial(trial, { name: own.name, unit, better, values, machines });
}

function surroundingsOf(
  { own }: ShownResponse,
  { trial, assumptions, problems }: StripReportInput,
  valueByStrip: ReadonlyMap<string, StripValue>,
): Surroundings {
  const isYield = own.quantity === 'yield';
  const ofYield = isYield ? yieldWeaknesses(assumptions.map(({ code }) => code)) : [];
  return {
    treatmentHeading: null,
    blockHeading: null,
    weakens: [
      ...ofYield,
      ...harvestWeaknesses(trial, problems),
      ...layoutWeaknesses(trial, distinctNames(trial.treatments)),
      ...applicationWeaknesses(trial, problems),
    ],
    setAsideShares: setAsideShares(trial, valueByStrip),
    money: isYield ? (a, b) => moneyTerms(trial, a, b) : null,
    whyNoMoney: MONEY_FROM_YIELD_ALONE,
  };
}

function blockProblems(trial: TrialDocument, blocked: boolean): Problem[] {
  if (trial.inference.square || trial.design !== 'randomizedCompleteBlocks' || trial.strips.length === 0)
    return [];
  if (!blocked) return [problem('warning', 'noBlocksGiven')];
  return trial.strips
    .filter(({ block }) => block === null)
    .map(({ id }) => problem('warning', 'stripWithoutBlock', {}, { strip: id }));
}
