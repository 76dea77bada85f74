import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { type ReportResponse, reportModelSchema } from '../../src/findings/report-model.ts';
import { agreeingDigits, fixtureExpected } from '../analyses/fixture-data.ts';
import { reportOf, stripverdict } from './run-stripverdict.ts';

function onlyResponse(words: readonly string[]): ReportResponse {
  const ran = stripverdict(['answer', '--table', ...words, '--json']);
  expect(ran.err.replace(/^stripverdict: building .*\n/, '')).toBe('');
  expect(ran.code).toBe(0);
  const report = reportOf(ran);
  expect(v.is(reportModelSchema, report)).toBe(true);
  expect(report.responses).toHaveLength(1);
  return report.responses[0]!;
}

function row(response: ReportResponse, source: string) {
  return response.anova.find((candidate) => candidate.source === source)!;
}

function folderWith(name: string, text: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));
  writeFileSync(join(folder, name), text);
  return folder;
}

describe('stripverdict answer --table: published examples from the file to the figure', () => {
  // Gomez & Gomez (1984), tables 2.5 and 2.6; see fixtures/gomez-seeding-rate/SOURCE.md
  it('Gomez & Gomez, seeding rates of rice, to the printed digits', () => {
    const rice = ['fixtures/gomez-seeding-rate/data.csv', '--treatment', 'rate', '--block', 'rep'];
    const response = onlyResponse([...rice, '--response', 'yield', '--check', '25']);
    expect(response.anova.map(({ source, df }) => [source, df])).toEqual([
      ['block', 3],
      ['treatment', 5],
      ['error', 15],
      ['total', 23],
    ]);
    expect(Math.round(row(response, 'block').ss!)).toBe(1_944_361);
    expect(Math.round(row(response, 'treatment').ss!)).toBe(1_198_331);
    expect(Math.round(row(response, 'error').ss!)).toBe(1_658_376);
    expect(row(response, 'treatment').f?.toFixed(2)).toBe('2.17');
    expect(response.cvPercent?.toFixed(1)).toBe('6.7');
    expect(row(response, 'treatment').label).toBe('rate');
  });

  // Dobson (1983), R's PlantGrowth: completely randomized, since no block is named
  it('PlantGrowth, completely randomized', () => {
    const response = onlyResponse([
      'fixtures/plant-growth/data.csv',
      '--treatment',
      'group',
      '--response',
      'weight',
    ]);
    expect(response.design).toBe('completelyRandomized');
    expect(row(response, 'treatment').f?.toFixed(3)).toBe('4.846');
    expect(row(response, 'treatment').p?.toFixed(5)).toBe('0.01591');
  });
});

interface Certified {
  readonly F: string;
  readonly dfWithin: number;
}

describe('NIST StRD through the public entry: CSV in, F out', () => {
  const { sets } = fixtureExpected<{ sets: Readonly<Record<string, Certified>> }>('nist-anova');
  const folder = mkdtempSync(join(tmpdir(), 'stripverdict-'));

  it('has all eleven sets', () => {
    expect(Object.keys(sets)).toHaveLength(11);
  });

  it.each(Object.keys(sets))('%s to at least 13 digits', (name) => {
    writeFileSync(join(folder, `${name}.csv`), nistSet(name));
    const words = [join(folder, `${name}.csv`), '--treatment', 'group', '--response', 'response'];
    const response = onlyResponse(words);
    const certified = sets[name]!;
    expect(row(response, 'error').df).toBe(certified.dfWithin);
    expect(agreeingDigits(row(response, 'treatment').f!, Number(certified.F))).toBeGreaterThanOrEqual(13);
  });

  // The rule that writes the larger sets, held against the two that are here as NIST prints them.
  it.each(['SmLs04', 'SmLs07'])('%s is what the rule writes', (name) => {
    expect(simonLesage(name)).toBe(nistText(name)?.trimEnd());
  });
});

function nistText(name: string): string | null {
  const file = new URL(`../../fixtures/nist-anova/${name}.csv`, import.meta.url);
  return existsSync(file) ? readFileSync(file, 'utf8').replaceAll('\r', '') : null;
}

function nistSet(name: string): string {
  return nistText(name) ?? simonLesage(name);
}

/** `simonLesageRule` of the fixture: nine groups; base, then base - 0.1 and base + 0.1 in turn; a constant in front. */
function simonLesage(name: string): string {
  const set = Number(name.slice(-2)) - 1;
  const perGroup = [21, 201, 2001][set % 3]!;
  const whole = ['1', '1000000', '1000000000000'][Math.floor(set / 3)]!;
  const first = new Map<string, number>();
  for (const line of nistText('SmLs01')!.trim().split('\n').slice(1)) {
    const [group, value] = line.split(',') as [string, string];
    if (!first.has(group)) first.set(group, Math.round((Number(value) - 1) * 10));
  }
  const rows = [...first].flatMap(([group, tenths]) =>
    Array.from({ length: perGroup }, (_, i) => {
      const step = i === 0 ? 0 : i % 2 === 1 ? -1 : 1;
      return `${group},${whole}.${tenths + step}`;
    }),
  );
  return ['group,response', ...rows].join('\n');
}

describe('stripverdict answer --table: what is asked and what is refused', () => {
  const table =
    'product,rep,yield,moisture\nA,1,5,14\nB,1,6,15\nA,2,5.5,14.2\nB,2,6.1,15.1\nA,3,5.2,14.1\nB,3,6.3,15.3\n';

  it('analyses several responses at once', () => {
    const folder = folderWith('t.csv', table);
    const words = ['answer', '--table', 't.csv', '--treatment', 'product', '--block', 'rep'];
    const ran = stripverdict([...words, '--response', 'yield', '--response', 'moisture', '--json'], folder);
    expect(ran.code).toBe(0);
    expect(reportOf(ran).responses.map(({ name }) => name)).toEqual(['yield', 'moisture']);
  });

  it('prints lines that start with Difference: and Money:', () => {
    const folder = folderWith('t.csv', table);
    const words = [
      'answer',
      '--table',
      't.csv',
      '--treatment',
      'product',
      '--block',
      'rep',
      '--response',
      'yield',
    ];
    const ran = stripverdict([...words, '--unit', 't/ha', '--check', 'A'], folder);
    expect(ran.code).toBe(0);
    expect(ran.out.split('\n').filter((line) => line.startsWith('Difference:'))).toHaveLength(1);
    expect(ran.out.split('\n').filter((line) => line.startsWith('Money:'))).toHaveLength(1);
  });

  const faults: readonly [
    what: string,
    text: string,
    options: readonly string[],
    code: string,
    place: RegExp,
  ][] = [
    ['an empty file', '', [], 'emptyFile', /^stripverdict: t\.csv: /],
    ['a header only', 'product,rep,yield\n', [], 'headerOnly', /^stripverdict: t\.csv/],
    ['a column that is not there', table, ['--response', 'height'], 'noSuchColumn', /t\.csv.*height/],
    [
      'text in a number column',
      table.replace('6.1', 'many'),
      ['--treatment', 'product', '--response', 'yield'],
      'notANumber',
      /t\.csv, row 5, column yield: /,
    ],
  ];

  it.each(faults)(
    '%s: exit 2, one line that names the place, and one JSON object',
    (_, text, options, code, place) => {
      const folder = folderWith('t.csv', text);
      const plain = stripverdict(['answer', '--table', 't.csv', ...options], folder);
      expect(plain.code).toBe(2);
      expect(plain.out).toBe('');
      expect(plain.err).toMatch(place);
      const asJson = stripverdict(['answer', '--table', 't.csv', ...options, '--json'], folder);
      expect(asJson.code).toBe(2);
      expect(reportOf(asJson).problems.map((problem) => problem.code)).toContain(code);
    },
  );

  it('a word that is no option: exit 2, and one JSON object where JSON was asked', () => {
    expect(stripverdict(['answer', '--tabel', 'x']).code).toBe(2);
    const ran = stripverdict(['answer', '--tabel', 'x', '--json']);
    expect(ran.code).toBe(2);
    expect(reportOf(ran).problems[0]?.code).toBe('argumentsWrong');
  });
});
