import { changedAfterSeeing } from '../trial/changed-after-seeing.ts';
import type { Problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { applicationWeakness, logNotRead } from '../words/application-weaknesses.ts';
import {
  changedAfterSeeing as changedSentence,
  LAG_NOT_KNOWN,
  MOISTURE_BASIS_ASSUMED,
  NOT_RANDOMISED,
  RANDOMISATION_NOT_SAID,
  sameOrderInBlocks,
  wentWithTreatment,
} from '../words/weakening-sentences.ts';

/** Assumptions of harvest about the moisture at which yields stood. */
const MOISTURE_ASSUMPTIONS = [
  'moistureBasisAssumedWet',
  'noMoistureColumn',
  'noStandardMoisture',
  'moistureOfYieldUnknown',
];
const LAG_ASSUMPTIONS = ['lagAssumedApplied'];

/** What weakens every answer of a trial, whatever the response: how it was laid out, and what changed afterwards. */
export function layoutWeaknesses(
  trial: TrialDocument,
  names: ReadonlyMap<string, string>,
): readonly string[] {
  const order = commonOrderInBlocks(trial.strips);
  const changes = changedAfterSeeing(trial);
  return [
    ...randomisationWeakness(trial.randomised),
    ...(order === null ? [] : [sameOrderInBlocks(order.map((id) => names.get(id) ?? id))]),
    ...(changes.length === 0 ? [] : [changedSentence(changes.map(({ path }) => path))]),
  ];
}

export function randomisationWeakness(randomised: boolean | null): readonly string[] {
  if (randomised === true) return [];
  return [randomised === false ? NOT_RANDOMISED : RANDOMISATION_NOT_SAID];
}

/** What lined up with the treatments at harvest. A machine that is a term of the model is taken out where it can be told. */
export function harvestWeaknesses(
  { inference }: TrialDocument,
  problems: readonly { readonly code: string }[],
): readonly string[] {
  return problems.flatMap(({ code }) => {
    if (code === 'machinePartlyLinesUp' && inference.machineTerm) return [];
    return wentWithTreatment(code) ?? [];
  });
}

/** What was taken for granted about yields, as far as it can move the answer. */
export function yieldWeaknesses(assumptionCodes: readonly string[]): readonly string[] {
  return [
    ...(assumptionCodes.some((code) => MOISTURE_ASSUMPTIONS.includes(code)) ? [MOISTURE_BASIS_ASSUMED] : []),
    ...(assumptionCodes.some((code) => LAG_ASSUMPTIONS.includes(code)) ? [LAG_NOT_KNOWN] : []),
  ];
}

/** What was put out otherwise than planned, and logs that could not be read. */
export function applicationWeaknesses(
  { applicationFiles = [] }: Pick<TrialDocument, 'applicationFiles'>,
  problems: readonly Problem[],
): readonly string[] {
  const isNotRead = (path: string) =>
    problems.some(({ severity, file }) => severity === 'error' && file === path);
  const notRead = applicationFiles.map(({ path }) => path).filter(isNotRead);
  const found = problems.flatMap(({ code, details }) => applicationWeakness(code, details) ?? []);
  return [...(notRead.length === 0 ? [] : [logNotRead(notRead)]), ...found];
}

/** A plot as far as the order across the field goes. */
interface PlacedPlot {
  readonly block: string | null;
  readonly place: number | null;
  readonly treatment: string;
}

/**
 * The order of treatments across the field, where it is the same in every one of two or more blocks (A B A B ...);
 * null otherwise, or where places are not known.
 */
export function commonOrderInBlocks(plots: readonly PlacedPlot[]): readonly string[] | null {
  const blocks = [...new Set(plots.flatMap(({ block }) => block ?? []))];
  const orders = blocks.map((block) => orderOf(plots.filter((plot) => plot.block === block)));
  const first = orders[0];
  if (first === undefined || first === null || orders.length < 2 || first.length < 2) return null;
  const same = orders.every((order) => order !== null && order.join('\n') === first.join('\n'));
  return same ? first : null;
}

function orderOf(plots: readonly PlacedPlot[]): readonly string[] | null {
  if (plots.some(({ place }) => place === null)) return null;
  return [...plots].sort((x, y) => (x.place ?? 0) - (y.place ?? 0)).map(({ treatment }) => treatment);
}
