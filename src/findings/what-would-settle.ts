import {
  MORE_BLOCKS,
  MORE_SEASONS,
  moreBlocks,
  REPLICATION_WOULD_SETTLE,
  SET_MARGIN,
  SET_PRICE_AND_COSTS,
} from '../words/weakening-sentences.ts';
import type { BlocksForMargin } from './blocks-for-margin.ts';
import type { ReportAnswer } from './report-model.ts';
import type { MoneyTerms } from './response-plots.ts';

/** What the user could do so that the next answer is a verdict; nothing where both statements are settled. */
export function whatWouldSettle(
  answer: Pick<ReportAnswer, 'difference' | 'money' | 'equivalence'>,
  money: MoneyTerms | null,
  blocks: BlocksForMargin | null,
): string[] {
  const priceMissing = money !== null && !money.known ? [SET_PRICE_AND_COSTS] : [];
  if (answer.difference === null) return [REPLICATION_WOULD_SETTLE, ...priceMissing];
  const open = answer.difference === 'Not settled' || answer.money === 'May pay';
  const marginMissing = answer.difference === 'Not settled' && answer.equivalence.margin === null;
  return [
    ...(open ? [blocks === null ? MORE_BLOCKS : moreBlocks(blocks.blocks, blocks.difference)] : []),
    ...(open ? [MORE_SEASONS] : []),
    ...(marginMissing ? [SET_MARGIN] : []),
    ...priceMissing,
  ];
}
