import type { SetAsideReason } from '../../harvest/strip-values.ts';
import { REASONS } from './set-aside-reasons.ts';

/** How a point that was set aside is drawn when each reason has its own mark. */
export interface ReasonMark {
  readonly form: 'cross' | 'plus' | 'square';
  /** Red, green, blue. */
  readonly colour: readonly [number, number, number];
}

/** Told apart under every common colour vision: Okabe & Ito (2008), Color Universal Design, its darker colours. */
const BLACK = [0x1c, 0x1b, 0x19] as const;
const VERMILION = [0xd5, 0x5e, 0x00] as const;
const BLUE = [0x00, 0x72, 0xb2] as const;
const GREEN = [0x00, 0x9e, 0x73] as const;
const PURPLE = [0xb0, 0x5c, 0x8e] as const;
const GREY = [0x9a, 0x95, 0x88] as const;

/** The form says what was looked at: a cross where the point lies, a plus how the machine went, a square what sensors said. */
const MARKS: Readonly<Record<SetAsideReason, ReasonMark>> = {
  outsideStrips: { form: 'cross', colour: GREY },
  sideMargin: { form: 'cross', colour: VERMILION },
  endMargin: { form: 'cross', colour: BLUE },
  cutFromBlock: { form: 'cross', colour: BLACK },
  cutFromStrip: { form: 'cross', colour: PURPLE },
  appliedOtherwise: { form: 'cross', colour: GREEN },
  headerUp: { form: 'plus', colour: BLACK },
  turning: { form: 'plus', colour: VERMILION },
  speed: { form: 'plus', colour: BLUE },
  width: { form: 'plus', colour: PURPLE },
  unreadable: { form: 'square', colour: BLACK },
  moisture: { form: 'square', colour: BLUE },
  yield: { form: 'square', colour: VERMILION },
  outlier: { form: 'square', colour: PURPLE },
};

/** By the number under which a point carries its reason. */
export function reasonMark(reason: number): ReasonMark {
  return MARKS[REASONS[reason - 1] ?? 'unreadable'];
}

export interface ReasonCount {
  readonly reason: number;
  readonly points: number;
}

/** Counted once for each analysis, since the legend is drawn again with every mark that is pointed at. */
const COUNTED = new WeakMap<Uint8Array, readonly ReasonCount[]>();

/** How many points carry each reason, most first; reasons without points are left out. */
export function reasonCounts(reason: Uint8Array): readonly ReasonCount[] {
  const before = COUNTED.get(reason);
  if (before !== undefined) return before;
  const counts = new Int32Array(REASONS.length + 1);
  for (let i = 0; i < reason.length; i++) counts[reason[i]!]! += 1;
  const counted = Array.from(counts, (points, number) => ({ reason: number, points }))
    .filter(({ reason: number, points }) => number > 0 && points > 0)
    .sort((a, b) => b.points - a.points);
  COUNTED.set(reason, counted);
  return counted;
}
