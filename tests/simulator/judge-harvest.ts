import { tallyDifferences } from './difference-errors.ts';
import { type LagTally, tallyLags } from './lag-fields.ts';
import { type HarvestPattern, tallyLayoutMoves } from './layout-moves.ts';

/** The claims about simulated harvests, one line each: claim | figure | asked | met. Seeds were not used while tuning. */
export function judgeHarvest(fields: number): boolean {
  const seeds = (first: number) => Array.from({ length: fields }, (_, k) => first + k);
  const patchy = tallyLags(seeds(100_001), 'patchy');
  const noise = tallyLags(seeds(200_001), 'whiteNoise');
  const differences = tallyDifferences(seeds(300_001));
  const moves = PATTERNS.map((pattern, k) => ({
    pattern,
    tally: tallyLayoutMoves(seeds(400_001 + 10_000 * k), pattern),
  }));
  const unrelated = tallyLayoutMoves(seeds(490_001), 'unrelated');
  const claims = [
    claim('lag answered on patchy ground', share(patchy.answers, patchy), '>= 0.80', (x) => x >= 0.8),
    claim('lag within 1 s, of answers', patchy.within1S / patchy.answers, '>= 0.95', (x) => x >= 0.95),
    claim('interval holds the lag, of answers', patchy.covered / patchy.answers, 'printed', () => true),
    claim('"cannot tell" on white noise', 1 - share(noise.answers, noise), '>= 0.90', (x) => x >= 0.9),
    claim(
      'error of differences, screened to unscreened',
      differences.screenedRms / differences.unscreenedRms,
      '<= 0.50',
      (x) => x <= 0.5,
    ),
    claim(
      `bias of differences (standard error ${differences.biasError.toFixed(5)})`,
      Math.abs(differences.bias),
      '< 0.002',
      (x) => x < 0.002,
    ),
    ...moves.flatMap(({ pattern, tally }) => [
      claim(`layout moved, answered (${pattern})`, tally.answers / tally.fields, '>= 0.90', (x) => x >= 0.9),
      claim(
        `layout within 0.5 m across, of answers (${pattern})`,
        tally.acrossRight / tally.answers,
        '>= 0.95',
        (x) => x >= 0.95,
      ),
      claim(
        `layout within 2 m along, of those told (${pattern})`,
        tally.alongRight / tally.alongTold,
        '>= 0.95',
        (x) => x >= 0.95,
      ),
    ]),
    claim(
      '"cannot tell" where headers and strips do not go together',
      1 - unrelated.answers / unrelated.fields,
      '>= 0.90',
      (x) => x >= 0.9,
    ),
  ];
  console.log(`${fields} fields each; errors as shares of the yield`);
  for (const { line } of claims) console.log(line);
  return claims.every(({ isMet }) => isMet);
}

const PATTERNS: readonly HarvestPattern[] = ['headerAsWide', 'withRests', 'twoPasses', 'allOver'];

function share(count: number, { fields }: LagTally): number {
  return count / fields;
}

function claim(what: string, figure: number, asked: string, holds: (figure: number) => boolean) {
  const isMet = holds(figure);
  return { isMet, line: `${what} | ${figure.toFixed(4)} | ${asked} | ${isMet ? 'met' : 'NOT MET'}` };
}
