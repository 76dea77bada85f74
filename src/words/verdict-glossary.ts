/** What each verdict means, in one sentence each; printed wherever verdicts are shown. */
export const VERDICT_GLOSSARY: Readonly<Record<string, string>> = {
  Real: 'The interval of the deciding procedure leaves zero out: chance alone would rarely make a difference like this.',
  'Same for practical purposes':
    'The difference is shown to be smaller than the margin that was set before harvest.',
  'Real, but smaller than matters':
    'There is a difference, and it is shown to be smaller than the margin that was set before harvest.',
  'Not settled':
    'These strips can neither show a difference nor rule one out; that is not proof of no effect.',
  Pays: 'The whole interval lies above the difference that covers the extra cost.',
  'Does not pay': 'The whole interval lies below the difference that covers the extra cost.',
  'May pay': 'The difference that covers the extra cost lies within the interval: it may pay or lose money.',
};

/** What stands in place of a verdict where nothing was repeated. */
export const NUMBERS_ONLY = 'Numbers only, no replication';

/** What stands in place of a money verdict where price or cost is missing. */
export const MONEY_NOT_KNOWN = 'Not known';
