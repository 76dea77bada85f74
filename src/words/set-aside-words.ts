/** Why a point of a yield-monitor file was left out, by the reason that harvest gives. */
export const SET_ASIDE_WORDS: Readonly<Record<string, string>> = {
  unreadable: 'row could not be read, or its position is not to be trusted',
  outsideStrips: 'outside every strip',
  sideMargin: 'too near the side of the strip, or straddling it',
  headerUp: 'header up, or not harvesting',
  turning: 'turning',
  cutFromBlock: 'in an area left out, cut from every strip of the block',
  cutFromStrip: 'in an area left out of this strip alone',
  appliedOtherwise: 'on ground that did not get what was planned',
  endMargin: 'too near the end of the strip or pass',
  speed: 'speed out of limits, or changing',
  width: 'cut less than the full width',
  moisture: 'moisture out of limits',
  yield: 'yield out of limits',
  outlier: 'odd among its neighbours',
};

export function setAsideWords(reason: string): string {
  return SET_ASIDE_WORDS[reason] ?? reason;
}
