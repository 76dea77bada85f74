import { type RandomNumbers, seededGenerator, shuffled } from '../../analyses/seeded-generator.ts';
import type { Plot, ResponsePlots } from '../../src/findings/response-plots.ts';
import type { Cell, ErrorShape } from './cells.ts';
import { heavyTailed, normalDeviates } from './random-errors.ts';

/** One simulated trial, with what is true of it. */
export interface SimulatedTrial {
  readonly response: ResponsePlots;
  /** By treatment: effect plus what its blocks have in common; true where no trend leans on treatments. */
  readonly trueMeans: readonly number[];
}

/** Of the field; only the share of rounding depends on it. A coefficient of variation of 5 %. */
const LEVEL = 20;
const BLOCK_SD = 2;
const WIDE = 3;

/** A source of trials of one cell: the same ones for the same cell. */
export function trialsOf(cell: Cell): () => SimulatedTrial {
  const random = seededGenerator(cell.seed);
  const normal = normalDeviates(random);
  const names = {
    treatments: Array.from({ length: cell.treatments }, (_, i) => `T${i}`),
    blocks: Array.from({ length: cell.blocks }, (_, i) => `B${i}`),
  };
  return () => drawTrial(cell, names, random, normal);
}

function drawTrial(
  cell: Cell,
  names: Pick<ResponsePlots, 'treatments'> & { readonly blocks: readonly string[] },
  random: RandomNumbers,
  normal: () => number,
): SimulatedTrial {
  const blockLevels = names.blocks.map(() => LEVEL + BLOCK_SD * normal());
  const plots = blockLevels.flatMap((level, block): Plot[] => {
    const places = placesInBlock(cell, random);
    return cell.shifts.map((shift, treatment) => {
      const trend = cell.trendPerStrip * (block * cell.treatments + places[treatment]!);
      const value = level + shift + trend + error(cell.errors, treatment, cell.treatments, normal);
      const isLost = cell.lost.some(([t, b]) => t === treatment && b === block);
      return { treatment, block, deviation: isLost ? null : value };
    });
  });
  const common = blockLevels.reduce((sum, level) => sum + level, 0) / cell.blocks;
  return {
    response: { name: 'yield', unit: null, better: 'higher', origin: 0, plots, ...names },
    trueMeans: cell.shifts.map((shift) => shift + common),
  };
}

function placesInBlock({ order, treatments }: Cell, random: RandomNumbers): readonly number[] {
  return order === 'same' ? Array.from({ length: treatments }, (_, i) => i) : shuffled(treatments, random);
}

function error(shape: ErrorShape, treatment: number, treatments: number, normal: () => number): number {
  if (shape === 'heavyTails') return heavyTailed(normal);
  const wide =
    (shape === 'lastTreatmentVaries' && treatment === treatments - 1) ||
    (shape === 'checkVaries' && treatment === 0);
  return (wide ? WIDE : 1) * normal();
}
