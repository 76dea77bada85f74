import { describe, expect, it } from 'vitest';
import { productSources, projectFiles, readProjectFile } from './source-files.ts';

interface LineRule {
  readonly what: string;
  readonly pattern: RegExp;
  readonly remedy: string;
}

const PRODUCT_RULES: readonly LineRule[] = [
  {
    what: 'a tail taken as 1 - cdf',
    pattern: /1(\.0)?\s*-\s*\(*[\w.]*(cdf|Cdf|CDF|LowerTail|lowerTail|pnorm|ptukey|pt|pf)\(/,
    remedy: 'compute the upper tail directly (analyses/distributions)',
  },
  { what: 'an enum', pattern: /^\s*(export\s+)?(const\s+)?enum\s/, remedy: 'use a union of literals' },
  { what: 'silenced types', pattern: /@ts-(ignore|nocheck|expect-error)/, remedy: 'mend the type' },
  {
    what: 'unfinished work',
    pattern: /\b(TODO|FIXME|XXX)\b|not implemented/,
    remedy: 'finish it or leave it out',
  },
];

const CLOCK_AND_CHANCE: LineRule = {
  what: 'a clock or unseeded chance in a pure room',
  pattern: /\bMath\.random\(|\bDate\.now\(|\bnew Date\(\)|\bperformance\.now\(/,
  remedy: 'hand the time or the seeded generator in',
};

const TEST_RULE: LineRule = {
  what: 'a test skipped, singled out or empty',
  pattern: /\b(describe|it|test)\.(skip|only|todo|fixme|skipIf|runIf)\b|\bx(it|describe)\(|expect\(true\)/,
  remedy: 'mend it or delete it; a test never passes by not running',
};

const PURE =
  /^(analyses|src\/(geometry|trial|words|intake|harvest|planning|findings|pipeline|figures|export))\//;

function offences(paths: readonly string[], rule: LineRule): string[] {
  return paths.flatMap((path) =>
    readProjectFile(path)
      .split('\n')
      .flatMap((line, index) =>
        rule.pattern.test(withoutComment(line)) ? [`${path}:${index + 1}: ${rule.what}; ${rule.remedy}`] : [],
      ),
  );
}

function withoutComment(line: string): string {
  return /^\s*(\*|\/\*|\/\/)/.test(line) ? '' : line;
}

describe('what the sources may not hold', () => {
  const sources = productSources();

  for (const rule of PRODUCT_RULES) {
    it(`no ${rule.what}`, () => {
      expect(offences(sources, rule)).toEqual([]);
    });
  }

  it(`no ${CLOCK_AND_CHANCE.what}`, () => {
    const pure = sources.filter((path) => PURE.test(path));
    expect(offences(pure, CLOCK_AND_CHANCE)).toEqual([]);
  });

  it(`no ${TEST_RULE.what}`, () => {
    const tests = projectFiles().filter(
      (path) => /^tests\/.*\.ts$/.test(path) && path !== 'tests/rules/source-text.test.ts',
    );
    expect(offences(tests, TEST_RULE)).toEqual([]);
  });

  it('no machine path in any text that is committed', () => {
    const texts = projectFiles().filter((path) =>
      /\.(ts|mjs|js|json|md|html|css|csv|geojson)$|^\.ci\//.test(path),
    );
    const machinePath = /(^|[^#A-Za-z0-9._-])\/(work|root|home)\/[A-Za-z._-]+/;
    const found = texts.filter((path) => {
      const lines = readProjectFile(path).split('\n');
      return (
        path !== 'package-lock.json' &&
        lines.some((line) => !/https?:\/\//.test(line) && machinePath.test(line))
      );
    });
    expect(found, 'write paths relative to the project').toEqual([]);
  });

  it('the rules bite on the texts they are made for', () => {
    const samples: readonly [LineRule, string][] = [
      [PRODUCT_RULES[0] as LineRule, 'return 1 - tCdf(x, df);'],
      [PRODUCT_RULES[1] as LineRule, 'export enum A {}'],
      [CLOCK_AND_CHANCE, 'const r = Math.random();'],
      [TEST_RULE, `it.${'skip'}('x', () => {});`],
    ];
    for (const [rule, text] of samples) expect(rule.pattern.test(text), rule.what).toBe(true);
  });
});
