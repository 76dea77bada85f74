import { type Outcome, success } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { harvestHandTables } from './hand-tables.ts';
import type { HandHarvestInput } from './harvest-input.ts';
import type { Assumption } from './problem-codes.ts';
import type { ResponseOfStrips, StripValue } from './strip-values.ts';

interface OfStrips {
  readonly strips: readonly StripValue[];
  readonly responses: readonly ResponseOfStrips[];
  readonly assumptions: readonly Assumption[];
}

/** Tables beside a monitor that say what was weighed; all others carry further responses alone. */
export function saysWeights({ samples, otherResponses }: HandHarvestInput): boolean {
  return otherResponses.length === 0 || samples.some(({ weightKg }) => weightKg !== null);
}

/**
 * The monitor's strips with what tables by hand hold beside yield and moisture (protein, heights, counts) as further
 * responses. Rows that fit no single strip were named where loads were read. Refuses as `harvestHandTables` does.
 */
export function withOtherResponses(
  trial: TrialDocument,
  monitor: OfStrips,
  tables: readonly HandHarvestInput[],
): Outcome<OfStrips> {
  const further = tables.filter(({ otherResponses }) => otherResponses.length > 0);
  if (further.length === 0) return success(monitor);
  const hand = harvestHandTables(trial, further, 'others');
  const problems = hand.problems.filter(({ code }) => !/^hand(Strip|Place)/.test(code));
  if (!hand.ok) return { ok: false, problems };
  const { strips, responses, assumptions } = hand.value;
  return success(
    {
      strips: monitor.strips.map((value, s) => ({
        ...value,
        values: { ...value.values, ...strips[s]?.values },
      })),
      responses: [...monitor.responses, ...responses],
      assumptions: [...monitor.assumptions, ...assumptions],
    },
    problems,
  );
}
