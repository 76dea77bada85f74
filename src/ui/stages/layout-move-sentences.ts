import type { LayoutMoveAnswer, MoveUnknown, ProposedMove } from '../../harvest/propose-layout-move.ts';
import type { DisplayUnit } from '../../trial/display-units.ts';
import { layoutMoveText } from '../../trial/layout-as-it-lies.ts';
import { fixed, percentOf } from '../../words/number-formats.ts';

const WHY_UNKNOWN: Readonly<Record<MoveUnknown, string>> = {
  allAsApplied: 'outlines as applied lie where they were sprayed, and are not moved',
  noHeaderWidth:
    'the files record no width of the header. Give it on the Harvest page, among the margins, limits and screens',
  tooFewPasses: 'there are too few passes along the field',
  passesRunAcross:
    'the passes run across the strips. Turn the layout by hand until they run alike, then ask again',
  outOfReach:
    'no pass lies near enough to the strips. Move the layout by hand until it lies among them, then ask again',
  noClearBest:
    'wherever it lies, about as many passes lie over two strips: header and strips do not go together',
};

/** Below this nobody would place a layout by hand either. */
const SLACK_SAID_M = 0.3;

/** What the passes say about where the layout lies, one sentence each. */
export function proposalSentences(answer: LayoutMoveAnswer, unit: DisplayUnit): readonly string[] {
  if (answer.kind === 'cannotTell') {
    const degrees =
      answer.why === 'passesRunAcross' ? ` (${fixed(Math.abs(answer.degrees), 0)} degrees)` : '';
    return [`Cannot tell${degrees}: ${WHY_UNKNOWN[answer.why]}.`];
  }
  const { before, after, passes } = answer;
  if (answer.kind === 'fits')
    return [
      `The strips lie right as far as the passes tell: ${before.wholePasses} of ${passes} passes lie whole in one strip.`,
      ...roomSentence(answer, unit),
      ...othersSentence(answer, unit),
    ];
  return [
    `Proposed, against the plan: ${layoutMoveText(answer.move, unit)}.`,
    `Then ${after.wholePasses} of ${passes} passes lie whole in one strip, now ${before.wholePasses} do. Of all ground cut, headers cut ${percentOf(after.share)} within one strip, now ${percentOf(before.share)}.`,
    ...roomSentence(answer, unit),
    ...othersSentence(answer, unit),
    ...alongSentence(answer),
  ];
}

function roomSentence({ slackM }: ProposedMove, unit: DisplayUnit): readonly string[] {
  if (slackM < SLACK_SAID_M) return [];
  return [
    `The header leaves room: ${length(slackM, unit)} further across either way fits as well, and the middle is taken.`,
  ];
}

function othersSentence({ others }: ProposedMove, unit: DisplayUnit): readonly string[] {
  if (others.count === 0) return [];
  const places = others.count === 1 ? 'one other place' : `${others.count} other places`;
  return [
    `Passes go on beyond the strips, so the layout fits as well in ${places}, the next ${length(others.nextM, unit)} across. The nearest is taken; whether it is the right one the passes cannot tell. Look for a flag, a tramline or the edge of the field.`,
  ];
}

function alongSentence({ along }: ProposedMove): readonly string[] {
  if (along === 'told') return [];
  return [
    along === 'noHeaderState'
      ? 'Along the strips nothing is moved, since the files do not say where the header went down.'
      : 'Along the strips nothing is moved, since passes and strips are not of one length.',
  ];
}

function length(metres: number, unit: DisplayUnit): string {
  return `${fixed(metres * unit.perSi, 1)} ${unit.label}`;
}
