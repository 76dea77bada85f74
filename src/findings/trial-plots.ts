import { balanced } from '../trial/contrast-weights.ts';
import type { Strip, TrialDocument } from '../trial/trial-document.ts';
import { type MachineOfStrip, machineNames } from './machine-term.ts';
import {
  type Judging,
  type Levels,
  PLAIN_MODEL,
  type Plot,
  type PlotModel,
  type ResponsePlots,
} from './response-plots.ts';
import { distinctNames } from './treatment-names.ts';

/** One response of a trial's strips, in the unit in which people read it. */
export interface StripResponse {
  readonly name: string;
  readonly unit: string | null;
  readonly better: ResponsePlots['better'];
  /** Value of each strip, in the trial's order; null: lost or not measured. */
  readonly values: readonly (number | null)[];
  /** Machine of each strip; null: nobody knows. */
  readonly machines: MachineOfStrip | null;
}

/** Blocks count where the trial was set out in them and at least one strip says which is its own. */
export function blocksAreUsed(trial: TrialDocument): boolean {
  if (trial.inference.square) return false;
  return trial.design === 'randomizedCompleteBlocks' && trial.strips.some(({ block }) => block !== null);
}

/** The strips as the analysis sees them: one place where treatments, blocks and places of a trial become plots. */
export function plotsOfTrial(trial: TrialDocument, response: StripResponse): ResponsePlots {
  const treatments = indexById(trial.treatments);
  const blocks = indexById(trial.blocks);
  const ownDesign = designOfStrip(trial);
  const machine = machinesOfModel(trial, response.machines);
  const plot = (strip: Strip, index: number) => ({
    treatment: treatments.get(strip.treatment) ?? 0,
    block: strip.block === null ? null : (blocks.get(strip.block) ?? null),
    deviation: response.values[index] ?? null,
    place: strip.place,
    label: strip.id,
    ...ownDesign(strip),
    ...(machine === null ? {} : { machine: machine.of[index] ?? null }),
  });
  return {
    name: response.name,
    unit: response.unit,
    better: response.better,
    treatments: [...distinctNames(trial.treatments).values()],
    blocks: blocksAreUsed(trial) ? [...distinctNames(trial.blocks).values()] : null,
    origin: 0,
    plots: trial.strips.map(plot),
    model: { ...modelOfTrial(trial, response.name), machine: machine?.levels ?? null },
    contrasts: contrastsOfTrial(trial),
    followsRate: trial.inference.followsRate === true,
  };
}

/** A scale is that of yields; all else stands under every response. */
function modelOfTrial(trial: TrialDocument, response: string): PlotModel {
  const { scale, trend, covariate, factors } = trial.inference;
  const { square, ...levels } = trialLevels(trial);
  return {
    ...PLAIN_MODEL,
    square:
      square === null ? null : { rows: named('row', square.rows), columns: named('column', square.columns) },
    factors: factors
      ? {
          a: named(factors.first, levels.first),
          b: named(factors.second, levels.second),
          split: factors.split,
        }
      : null,
    covariate: covariate ?? null,
    trend: trend ? { heading: 'place across the field', shape: trend } : null,
    scale: response === 'yield' ? (scale ?? null) : null,
  };
}

/** Two machines at least must be known for a difference between them to be taken out. */
function machinesOfModel({ inference }: TrialDocument, machines: MachineOfStrip | null) {
  const names = machineNames(machines);
  if (!inference.machineTerm || machines === null || names.length < 2) return null;
  const of = machines.map((name) => (name === null ? null : names.indexOf(name)));
  return { levels: named('Machine', names), of };
}

function named(heading: string, names: readonly string[]): Levels {
  return { heading, names };
}

interface TrialLevels {
  readonly square: { readonly rows: readonly string[]; readonly columns: readonly string[] } | null;
  readonly first: readonly string[];
  readonly second: readonly string[];
}

/** Levels stand in the order in which strips, and treatments, first have them. */
function trialLevels({ strips, treatments, inference }: TrialDocument): TrialLevels {
  const once = (levels: readonly (string | null | undefined)[]) => [
    ...new Set(levels.filter((level) => typeof level === 'string')),
  ];
  return {
    square: inference.square
      ? { rows: once(strips.map(({ row }) => row)), columns: once(strips.map(({ column }) => column)) }
      : null,
    first: once(treatments.map(({ factorLevels }) => factorLevels?.[0])),
    second: once(treatments.map(({ factorLevels }) => factorLevels?.[1])),
  };
}

/** What a strip has beside treatment, block, place and value. */
function designOfStrip(trial: TrialDocument): (strip: Strip) => Partial<Plot> {
  const { square, first, second } = trialLevels(trial);
  const { factors, covariate } = trial.inference;
  const levelsOf = new Map(trial.treatments.map(({ id, factorLevels }) => [id, factorLevels ?? null]));
  return (strip) => {
    const [a = '', b = ''] = levelsOf.get(strip.treatment) ?? [];
    return {
      ...(square === null
        ? {}
        : { row: square.rows.indexOf(strip.row ?? ''), column: square.columns.indexOf(strip.column ?? '') }),
      ...(factors ? { factorA: first.indexOf(a), factorB: second.indexOf(b) } : {}),
      ...(covariate ? { covariate: strip.covariate ?? null } : {}),
    };
  };
}

function contrastsOfTrial({ treatments, inference }: TrialDocument): number[][] {
  return (inference.contrasts ?? []).map((weights) =>
    balanced(
      treatments.map(({ id }) =>
        weights.reduce((sum, { treatment, weight }) => (treatment === id ? sum + weight : sum), 0),
      ),
    ),
  );
}

/** How the trial wants its differences judged; `marginPerSi` turns its margin of yield into the response's unit, null: none applies. */
export function judgingOfTrial(trial: TrialDocument, marginPerSi: number | null): Judging {
  const { alpha, decidedBy, comparisons, namedPairs, marginKgPerHa } = trial.inference;
  const treatments = indexById(trial.treatments);
  const check = trial.treatments.findIndex(({ isCheck }) => isCheck);
  return {
    alpha,
    decidedBy,
    comparisons,
    namedPairs: namedPairs.map(([a, b]) => [treatments.get(a) ?? 0, treatments.get(b) ?? 0]),
    check: check < 0 ? null : check,
    margin: marginPerSi === null || marginKgPerHa === null ? null : marginKgPerHa * marginPerSi,
  };
}

function indexById(entries: readonly { readonly id: string }[]): ReadonlyMap<string, number> {
  return new Map(entries.map(({ id }, index) => [id, index]));
}
