/** How often the verdicts on one comparison read otherwise under other reasonable cleanings. */
export interface CleaningFlips {
  readonly a: string;
  readonly b: string;
  readonly judged: number;
  readonly differenceFlips: number;
  readonly moneyFlips: number;
}

export function cleaningHolds(judged: number): string {
  return `The cleaning does not decide: under all ${judged} reasonable cleanings that were tried both statements read the same.`;
}

export function cleaningDecides({ a, b, judged, differenceFlips, moneyFlips }: CleaningFlips): string {
  const parts = [
    ...(differenceFlips === 0 ? [] : [`${differenceFlips} change the statement on the difference`]),
    ...(moneyFlips === 0 ? [] : [`${moneyFlips} change the statement on money`]),
  ];
  return `The cleaning has a say in ${a} against ${b}: of ${judged} reasonable cleanings that were tried, ${parts.join(' and ')}.`;
}

/** Some cleanings leave too few strips to judge by. */
export function cleaningsWithoutVerdict(tried: number, judged: number): string {
  return `${tried - judged} of ${tried} cleanings left too little for a verdict.`;
}
