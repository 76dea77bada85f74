/** At least one response analysed, a fault of ours, bad input or nothing to analyse. */
export const EXIT = { analysed: 0, ourFault: 1, badInput: 2 } as const;
