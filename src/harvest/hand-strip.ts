import { type Problem, problem } from '../trial/problem.ts';
import type { Strip, TrialDocument } from '../trial/trial-document.ts';
import type { HandSampleInput } from './harvest-input.ts';

/**
 * Which strip does a row of a hand harvest belong to? By the strip's id, else by treatment and block (id or name,
 * capitals and outer blanks aside). A row that fits no strip, or several, or contradicts itself, is a named problem.
 */
export function handStripFinder(
  trial: Pick<TrialDocument, 'strips' | 'treatments' | 'blocks'>,
  file: string,
): (sample: HandSampleInput) => Strip | Problem {
  const strips = new Map(trial.strips.map((strip) => [key(strip.id), strip]));
  const treatments = namesToIds(trial.treatments);
  const blocks = namesToIds(trial.blocks);

  const byPlace = (sample: HandSampleInput): readonly Strip[] =>
    trial.strips.filter(
      ({ treatment, block }) =>
        agrees(treatments, sample.treatment, treatment) && agrees(blocks, sample.block, block),
    );

  return (sample) => {
    const { row, strip, treatment, block } = sample;
    const place = { file, row };
    if (strip !== null) {
      const found = strips.get(key(strip));
      if (found === undefined) return problem('warning', 'handStripUnknown', place, { strip });
      if (byPlace(sample).includes(found)) return found;
      return problem('warning', 'handPlaceContradicts', place, { strip, treatment, block });
    }
    if (treatment === null) return problem('warning', 'handPlaceMissing', place);
    const found = byPlace(sample);
    if (found[0] === undefined) return problem('warning', 'handPlaceUnknown', place, { treatment, block });
    if (found.length === 1) return found[0];
    const ids = found.map(({ id }) => id);
    return problem('warning', 'handPlaceAmbiguous', place, { treatment, block, strips: ids });
  };
}

/** What the row does not say, it does not contradict. */
function agrees(ids: ReadonlyMap<string, string>, said: string | null, id: string | null): boolean {
  return said === null || (id !== null && ids.get(key(said)) === id);
}

/** Ids win over names where one treatment's name is another's id. */
function namesToIds(entries: readonly { id: string; name: string }[]): ReadonlyMap<string, string> {
  return new Map([
    ...entries.map(({ id, name }) => [key(name), id] as const),
    ...entries.map(({ id }) => [key(id), id] as const),
  ]);
}

function key(text: string): string {
  return text.trim().toLowerCase();
}
