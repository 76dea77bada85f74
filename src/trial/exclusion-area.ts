import * as v from 'valibot';
import { filledText, stripPolygonSchema } from './polygon-schema.ts';

/** Why ground is left out: each is a fault of the ground or the season, not of a treatment. */
export const EXCLUSION_REASONS = ['wetHole', 'waterway', 'lodging', 'hail', 'treeLine', 'other'] as const;
export type ExclusionReason = (typeof EXCLUSION_REASONS)[number];

/**
 * Ground that is left out of the answer. With `strip` null the stretch that the area covers is cut from every strip
 * of each block that it touches, so that treatments lose alike; with a strip's id from that strip alone, which
 * then needs a `note` that says why.
 */
export const exclusionAreaSchema = v.object({
  id: filledText,
  reason: v.picklist(EXCLUSION_REASONS),
  note: v.string(),
  strip: v.nullable(filledText),
  polygon: stripPolygonSchema,
});

export type ExclusionArea = v.InferOutput<typeof exclusionAreaSchema>;

/** Numbers that no area of the trial has yet, as many as are asked for. */
export function freeAreaIds(
  { harvest }: { readonly harvest: { readonly exclusions?: readonly ExclusionArea[] | undefined } },
  count = 1,
): readonly string[] {
  const taken = new Set((harvest.exclusions ?? []).map(({ id }) => id));
  const free: string[] = [];
  for (let number = 1; free.length < count; number += 1)
    if (!taken.has(String(number))) free.push(String(number));
  return free;
}
