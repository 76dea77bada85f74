import { describe, expect, it } from 'vitest';
import { isRefusal, type RefusalCode, refuse } from '../../analyses/refusal.ts';
import { APPLIED_PROBLEM_CODES } from '../../src/harvest/applied-problem-codes.ts';
import { HARVEST_ASSUMPTION_CODES, HARVEST_PROBLEM_CODES } from '../../src/harvest/problem-codes.ts';
import { SET_ASIDE_REASONS } from '../../src/harvest/strip-values.ts';
import { INTAKE_PROBLEM_CODES } from '../../src/intake/problem-codes.ts';
import { problem } from '../../src/trial/problem.ts';
import { applicationWeakness } from '../../src/words/application-weaknesses.ts';
import { ASSUMPTION_CODES_WITH_WORDS, assumptionSentence } from '../../src/words/assumption-sentences.ts';
import { FINDINGS_ADVICE } from '../../src/words/findings-advice.ts';
import { PIPELINE_ADVICE } from '../../src/words/pipeline-advice.ts';
import { hasSentence, problemLine, problemSentence } from '../../src/words/problem-sentences.ts';
import { REFUSAL_CODES_WITH_WORDS, refusalWords } from '../../src/words/refusal-sentences.ts';
import { SET_ASIDE_WORDS } from '../../src/words/set-aside-words.ts';

/**
 * The lists of codes stand in the rooms that hand them out; these tests hold the words to them. A sentence is whole
 * when every detail it asks for is one that the code promises.
 */
const TRIAL_CODES: Readonly<Record<string, readonly string[]>> = {
  trialNotJson: ['reason'],
  trialNotOurs: [],
  trialTooNew: ['version', 'newestKnown'],
  trialDamaged: ['path', 'reason', 'faults'],
  noSuchField: ['path'],
  exclusionCrossesItself: ['area'],
  layoutMoved: ['move', 'isProposed'],
  renumberingImpossible: [],
  edgeLineImpossible: [],
  edgeLineLength: ['lengthM'],
  stripWidthImpossible: [],
  noStripsToDraw: [],
  stripNamedTwice: ['strip'],
  treatmentsAdded: ['treatments'],
  renumberingSettled: [],
  treatmentInUse: ['treatment', 'strips'],
};

const FINDINGS_CODES: Readonly<Record<string, readonly string[]>> = {
  treatmentMissingFromBlock: ['response', 'treatment', 'block'],
  treatmentRepeatedInBlock: ['response', 'treatment', 'block', 'plots'],
  furtherGaps: ['response', 'count'],
  treatmentWithoutValues: ['response', 'treatment'],
  blockWithoutValues: ['response', 'block'],
  stripWithoutBlock: ['strip'],
  stripOutsideSquare: ['strip'],
  treatmentWithoutLevels: ['treatment', 'first', 'second'],
  levelsGivenTwice: ['treatment', 'other'],
  noBlocksGiven: [],
  plotLacksCovariate: ['response', 'heading', 'plot'],
  notALatinSquare: ['response'],
  stripOfSeveralMachines: ['response', 'plot'],
  machineGoesWithBlocks: ['response'],
  machinePartlyInBlocks: ['response'],
  machinesNotKnown: [],
  machineCanBeTerm: ['machines'],
  marginNotOnScale: ['response'],
  contrastNotZero: ['contrast', 'sum'],
  checkNotFound: ['check', 'treatments'],
  treatmentNotFound: ['treatment', 'treatments'],
  checkWithoutValues: ['response', 'check'],
  namedPairWithoutValues: ['response', 'a', 'b'],
};

const intakeCodes = Object.fromEntries(
  INTAKE_PROBLEM_CODES.map(({ code, details }) => [code, Object.keys(details)]),
);
const allCodes = {
  ...TRIAL_CODES,
  ...intakeCodes,
  ...HARVEST_PROBLEM_CODES,
  ...FINDINGS_CODES,
};

it('what the application weakens is said whole, with the details that its problem promises', () => {
  const said = Object.entries(APPLIED_PROBLEM_CODES).flatMap(([code, names]) => {
    const details = Object.fromEntries(names.map((name) => [name, 7]));
    return applicationWeakness(code, details) ?? [];
  });
  expect(said.length).toBeGreaterThan(9);
  for (const sentence of said) expect(sentence).toMatch(/^[A-Z][^{}]*\.$/);
});

describe('problem sentences', () => {
  it.each(Object.entries(allCodes))('%s has whole sentences from the details it promises', (code, keys) => {
    expect(hasSentence(code), `write words for ${code} in src/words/`).toBe(true);
    const details = Object.fromEntries(keys.map((key) => [key, `<${key}>`]));
    const { message, whatToDo } = problemSentence(problem('error', code, {}, details));
    for (const sentence of [message, whatToDo]) {
      expect(sentence, 'a placeholder asks for a detail that the code does not promise').not.toMatch(/[{}]/);
      expect(sentence).toMatch(/^["<A-Z].*[.?]$/s);
    }
  });

  it('has no words for codes that nobody hands out', () => {
    expect(Object.keys(FINDINGS_ADVICE).sort()).toEqual(Object.keys(FINDINGS_CODES).sort());
  });

  it.each(Object.entries(PIPELINE_ADVICE))('%s is told in sentences', (_, { message, whatToDo }) => {
    expect(message).toMatch(/^[A-Z{].*\.$/);
    expect(whatToDo).toMatch(/^[A-Z{].*\.$/);
  });

  it('puts the place before the words, and leaves out what is not known of it', () => {
    const details = { text: '1e400', count: 2 };
    const cell = problem('error', 'notANumber', { file: 'plots.csv', row: 4, column: 'yield' }, details);
    expect(problemLine(cell)).toMatch(/^plots\.csv, row 4, column yield: "1e400" stands where a number/);
    expect(problemLine({ ...cell, row: null, column: null })).toMatch(/^plots\.csv: "1e400"/);
    expect(problemLine({ ...cell, file: null, row: null, column: null })).toMatch(/^"1e400"/);
    expect(problemLine(cell)).not.toMatch(/\n/);
  });

  it('turns names of the program into words, and shortens long lists', () => {
    const ask = problem('error', 'askWhichColumn', {}, { role: 'massFlow', candidates: ['a', 'b'] });
    expect(problemSentence(ask).message).toBe('Several columns could be the mass flow: a and b.');
    const many = Array.from({ length: 40 }, (_, i) => `h${i}`);
    expect(problemSentence(problem('error', 'noYieldColumn', {}, { headings: many })).whatToDo).toMatch(
      /h10 and 29 more\.$/,
    );
  });

  it('still tells a code that it has no words for', () => {
    expect(problemSentence({ code: 'toString', details: {} }).message).toMatch(/toString/);
  });
});

/** Catches a code that is written straight into the source without standing in any list. */
describe('codes in the sources', () => {
  const sources = import.meta.glob<string>('../../src/{trial,intake,harvest,findings,pipeline}/**/*.ts', {
    query: '?raw',
    import: 'default',
    eager: true,
  });
  const made = Object.entries(sources).flatMap(([path, text]) =>
    [
      ...text.matchAll(
        /(?:problem|intakeProblem)\(\s*(?:'(?:error|warning|note)',\s*)?'(?!error|warning|note)(\w+)'/g,
      ),
    ].map((found): [string, string] => [found[1]!, path]),
  );

  it('were found at all', () => expect(made.length).toBeGreaterThan(30));

  it.each([...new Map(made)])('%s (%s) has words', (code) => {
    expect(hasSentence(code), `write words for ${code} in src/words/`).toBe(true);
  });
});

describe('assumption sentences', () => {
  it.each(Object.entries(HARVEST_ASSUMPTION_CODES))('%s has a whole sentence', (code, keys) => {
    expect(ASSUMPTION_CODES_WITH_WORDS).toContain(code);
    const details = Object.fromEntries(keys.map((key) => [key, `<${key}>`]));
    expect(assumptionSentence(code, details)).toMatch(/^[^{}]*\.$/);
  });
});

describe('refusal sentences', () => {
  const refusals: Record<RefusalCode, Record<string, string | number>> = {
    tooFewTreatments: { levels: 1 },
    tooFewPlots: { plots: 2, parameters: 3 },
    noErrorDf: {},
    constantResponse: { value: 5 },
    nonFiniteValue: { plot: 0 },
    confoundedTerms: { term: 'treatment', with: 'block', df: 1, estimableDf: 0 },
    emptyCell: { term: 'x', levelOfFirst: 0, levelOfSecond: 0 },
    noCompletePair: { completePairs: 1, needed: 2 },
    noErrorVariation: {},
    alphaOutOfRange: { alpha: 2 },
    outsideTransformation: { plot: 0, value: 0, kind: 'log' },
    tooFewRates: { rates: 1, needed: 2 },
    quadraticDoesNotFit: {},
    bendsUpwards: {},
    bendNotDistinguishable: {},
    bestRateOutsideData: {},
  };

  it.each(Object.entries(refusals))('%s says what is wrong and what would help', (code, details) => {
    expect(isRefusal(refuse(code as RefusalCode, details))).toBe(true);
    expect(REFUSAL_CODES_WITH_WORDS).toContain(code);
    const words = refusalWords(code, details);
    expect(words.message).toMatch(/^[A-Z][^{}]*\.$/);
    expect(words.whatWouldHelp).toMatch(/^[A-Z][^{}]*\.$/);
  });
});

it('every reason to set a point aside has words', () => {
  expect(Object.keys(SET_ASIDE_WORDS)).toEqual([...SET_ASIDE_REASONS]);
});
