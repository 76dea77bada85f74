import type { YieldColumnAnswers } from '../trial/trial-document.ts';
import { saysWetOrDry } from '../trial/wet-or-dry.ts';
import type { Assumption, HarvestAssumptionCode } from './problem-codes.ts';

/**
 * How a file's yields come to standard moisture. 'byPoint': wet, each with its own moisture; 'constant': all at one
 * known moisture; 'none': already there, or left as recorded for the reason that the assumption gives.
 */
export type MoistureCorrection =
  | { readonly kind: 'byPoint'; readonly standardPercent: number }
  | { readonly kind: 'constant'; readonly fromPercent: number; readonly standardPercent: number }
  | { readonly kind: 'none' };

export interface ChosenCorrection {
  readonly correction: MoistureCorrection;
  readonly assumptions: readonly Assumption[];
}

export function chooseMoistureCorrection(
  file: string,
  answers: YieldColumnAnswers,
  hasMoisture: boolean,
  standardPercent: number | null,
): ChosenCorrection {
  const { heading, moistureBasis, atMoisturePercent } = answers;
  const asRecorded = (code: HarvestAssumptionCode): ChosenCorrection => ({
    correction: { kind: 'none' },
    assumptions: [{ code, details: { file, heading } }],
  });
  if (moistureBasis === 'standard') return { correction: { kind: 'none' }, assumptions: [] };
  if (moistureBasis === 'percent' && atMoisturePercent === null) return asRecorded('moistureOfYieldUnknown');
  if (moistureBasis === null && saysWetOrDry(wordsOf(heading)) === 'dry') return asRecorded('headingSaysDry');
  if (standardPercent === null) return asRecorded('noStandardMoisture');
  if (moistureBasis === 'percent' && atMoisturePercent !== null) {
    return {
      correction: { kind: 'constant', fromPercent: atMoisturePercent, standardPercent },
      assumptions: [],
    };
  }
  if (!hasMoisture) return asRecorded('noMoistureColumn');
  return {
    correction: { kind: 'byPoint', standardPercent },
    assumptions:
      moistureBasis === null
        ? [{ code: 'moistureBasisAssumedWet', details: { file, heading, standardPercent } }]
        : [],
  };
}

/** To bring a yield to standard that was brought there before is the worse mistake. */
function wordsOf(heading: string): readonly string[] {
  return heading.toLowerCase().split(/[^\p{L}]+/u);
}

/** Values as recorded, calibrated and brought to standard moisture; the very array where nothing is to be done. */
export function atStandardMoisture(
  recorded: Float64Array,
  correction: MoistureCorrection,
  moisturePercent: Float64Array | null,
  massFactor: number,
): Float64Array {
  if (correction.kind === 'none' && massFactor === 1) return recorded;
  const values = new Float64Array(recorded.length);
  for (let i = 0; i < values.length; i++) {
    const toStandard = correctionFactor(correction, moisturePercent?.[i] ?? Number.NaN);
    values[i] = recorded[i]! * (massFactor * toStandard);
  }
  return values;
}

/** Factor from recorded to standard; NaN where the point's moisture is needed and missing or impossible. */
export function correctionFactor(correction: MoistureCorrection, moisturePercent: number): number {
  if (correction.kind === 'none') return 1;
  const from = correction.kind === 'constant' ? correction.fromPercent : moisturePercent;
  if (!(from >= 0 && from < 100)) return Number.NaN;
  return (100 - from) / (100 - correction.standardPercent);
}
