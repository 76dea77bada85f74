import type { CellResult, Rate } from './cell-result.ts';
import { ALPHAS, type Cell } from './cells.ts';
import { label, UNWARNED, VERDICTS, WARNED } from './counted-trials.ts';
import { FAMILIES, type Family } from './short-cut.ts';

/** The tables for the project's documents, in Markdown; shares are percent of trials. */
export function calibrationTables(results: readonly CellResult[]): string {
  const of = (question: Cell['question']) => results.filter(({ cell }) => cell.question === question);
  return [
    ...ALPHAS.flatMap((alpha) => [
      falseRealTable(of('falseReal'), alpha),
      coverageTable(of('falseReal'), alpha),
    ]),
    lsdTable(of('falseReal')),
    ...ALPHAS.map((alpha) => strainedTable(of('falseReal'), alpha)),
    warningTable(of('falseReal')),
    strainedCoverageTable(of('falseReal')),
    powerTable(of('power')),
    verdictTable(of('verdicts')),
    wrongSameTable(of('verdicts')),
  ].join('\n\n');
}

const percent = (share: number) => (100 * share).toFixed(2);

function table(title: string, head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [
    `#### ${title}`,
    '',
    line(head),
    line(head.map((_, i) => (i === 0 ? '---' : '---:'))),
    ...rows.map(line),
  ].join('\n');
}

function rateOf({ rates }: CellResult, what: string): Rate | null {
  return rates.find((rate) => rate.what === what) ?? null;
}

function ratesIn(results: readonly CellResult[], group: string, what: string): Rate[] {
  return results.filter(({ cell }) => cell.group === group).flatMap((result) => rateOf(result, what) ?? []);
}

/** Smallest to largest over the cells, marked where a claim fails. */
function range(rates: readonly Rate[]): string {
  if (rates.length === 0) return '';
  const shares = rates.map(({ share }) => share);
  const failed = rates.some(({ holds }) => !holds) ? ' FAILED' : '';
  return `${percent(Math.min(...shares))} to ${percent(Math.max(...shares))}${failed}`;
}

const SOUND_GROUPS = [
  'all alike',
  'one far',
  'half far',
  'one strip lost',
  'two strips lost',
  'one check strip lost',
];

function falseRealTable(results: readonly CellResult[], alpha: number): string {
  const moreThanTwo = results.filter(({ cell }) => cell.treatments > 2);
  const two = results.filter(({ cell }) => cell.treatments === 2);
  const row = (name: string, own: readonly CellResult[], family: Family) => [
    name,
    ...SOUND_GROUPS.map((group) => range(ratesIn(own, group, label(`false real: ${family.name}`, alpha)))),
  ];
  return table(
    `At least one false Real, % of trials, alpha ${alpha} (smallest to largest over 2 to 8 treatments in 3 to 8 blocks)`,
    ['procedure', ...SOUND_GROUPS],
    [
      row('t, two treatments', two, FAMILIES[0]),
      ...FAMILIES.map((family) => row(family.name, moreThanTwo, family)),
    ],
  );
}

function coverageTable(results: readonly CellResult[], alpha: number): string {
  const names = [
    'interval of one mean holds',
    'interval of one pair holds',
    ...FAMILIES.filter(({ procedure }) => procedure !== 'holm' && procedure !== 'protectedLsd').map(
      ({ name }) => `intervals that hold together: ${name}`,
    ),
  ];
  return table(
    `Intervals at ${100 * (1 - alpha)} %: share of trials in which they cover the truth, %`,
    ['intervals', ...SOUND_GROUPS],
    names.map((name) => [
      name,
      ...SOUND_GROUPS.map((group) => range(ratesIn(results, group, label(name, alpha)))),
    ]),
  );
}

/** Simulated beside computed. */
function lsdTable(results: readonly CellResult[]): string {
  const four = results.filter(({ cell }) => cell.blocks === 4 && cell.treatments > 2);
  const rows = four.filter(({ cell }) => cell.group === 'all alike' || cell.group === 'one far');
  const shown = (result: CellResult, family: Family) => {
    const rate = rateOf(result, label(`false real: ${family.name}`, 0.05));
    if (rate === null) return '';
    const bound = rate.claim?.rule === 'atMost' ? 'at most ' : '';
    return `${percent(rate.share)} (${rate.claim === null ? 'no closed form' : bound + percent(rate.claim.share)})`;
  };
  return table(
    'LSD in four blocks, alpha 0.05: at least one false Real, % simulated (computed)',
    ['treatments', 'unprotected', 'protected', 'against the check'],
    rows.map((result) => [
      `${result.cell.treatments}, ${result.cell.group}`,
      shown(result, FAMILIES[0]),
      shown(result, FAMILIES[1]),
      shown(result, FAMILIES[5]),
    ]),
  );
}

const STRAINED_COLUMNS = [
  ['t, 2 tr. 4 bl.', 2, 4, FAMILIES[0]],
  ['t, 2 tr. 8 bl.', 2, 8, FAMILIES[0]],
  ['Tukey, 4 tr. 4 bl.', 4, 4, FAMILIES[4]],
  ['Tukey, 8 tr. 4 bl.', 8, 4, FAMILIES[4]],
  ['Tukey, 8 tr. 8 bl.', 8, 8, FAMILIES[4]],
  ['Dunnett, 4 tr. 4 bl.', 4, 4, FAMILIES[8]],
  ['Dunnett, 8 tr. 4 bl.', 8, 4, FAMILIES[8]],
  ['Dunnett, 8 tr. 8 bl.', 8, 8, FAMILIES[8]],
] as const;

function strainedGroups(results: readonly CellResult[]): string[] {
  const groups = [...new Set(results.map(({ cell }) => cell.group))];
  return groups.filter((group) => !SOUND_GROUPS.includes(group));
}

function strainedRows(results: readonly CellResult[], what: (family: Family) => string): string[][] {
  return strainedGroups(results).map((group) => [
    group,
    ...STRAINED_COLUMNS.map(([, treatments, blocks, family]) => {
      const result = results.find(
        ({ cell }) => cell.group === group && cell.treatments === treatments && cell.blocks === blocks,
      );
      const rate = result === undefined ? null : rateOf(result, what(family));
      return rate === null ? '' : percent(rate.share);
    }),
  ]);
}

function strainedTable(results: readonly CellResult[], alpha: number): string {
  return table(
    `Where the answer can be trusted: at least one false Real, % of trials, all treatments alike, alpha ${alpha}`,
    ['field and errors', ...STRAINED_COLUMNS.map(([name]) => name)],
    strainedRows(results, (family) => label(`false real: ${family.name}`, alpha)),
  );
}

/** What the report's own checks of variances see. */
function warningTable(results: readonly CellResult[]): string {
  const severalTreatments = (row: readonly string[]) => [row[0] ?? '', ...row.slice(3)];
  const names = STRAINED_COLUMNS.map(([name]) => name);
  const warned = strainedRows(results, () => label(WARNED, 0.05)).map((row) => [...row.slice(3, 6)]);
  const unwarned = strainedRows(results, (family) => label(`${UNWARNED}: ${family.name}`, 0.05));
  return table(
    'What the checks see: trials warned of unequal variances, and at least one false Real without that warning, % of trials, alpha 0.05',
    [
      'field and errors',
      ...names.slice(2, 5).map((name) => `warned, ${name.replace(/^\S+ /, '')}`),
      ...names.slice(2).map((name) => `unwarned, ${name}`),
    ],
    unwarned.map((row, i) => {
      const [group = '', ...shares] = severalTreatments(row);
      return [group, ...(warned[i] ?? []), ...shares];
    }),
  );
}

function strainedCoverageTable(results: readonly CellResult[]): string {
  return table(
    'Where intervals can be trusted: 95 % interval of the second treatment against the first covers the truth, % of trials',
    ['field and errors', ...STRAINED_COLUMNS.slice(0, 5).map(([name]) => name.replace(/^\S+ /, ''))],
    strainedRows(results, () => label('interval of one pair holds', 0.05)).map((row) => row.slice(0, 6)),
  );
}

function powerTable(results: readonly CellResult[]): string {
  const whats = [...new Set(results.flatMap(({ rates }) => rates.map(({ what }) => what)))];
  return table(
    'Power: simulated less computed, largest difference over designs and true differences',
    ['what, at which alpha', 'cells', 'largest difference'],
    whats.map((what) => {
      const rates = results.flatMap((result) => rateOf(result, what) ?? []);
      const gaps = rates.map(({ share, claim }) => Math.abs(share - (claim?.share ?? Number.NaN)));
      return [what, String(rates.length), Math.max(...gaps).toFixed(4)];
    }),
  );
}

function verdictTable(results: readonly CellResult[]): string {
  const own = results.filter(({ cell }) => cell.margin === 1 || cell.margin === 2);
  const money = ['Pays', 'Does not pay', 'May pay'];
  return table(
    'Verdicts on one treatment against the check, % of trials, alpha 0.05; break-even at the margin; t with two treatments, else Dunnett',
    ['trial', ...VERDICTS, ...money],
    own.map((result) => [
      `${result.cell.group}, ${result.cell.treatments} treatments, ${result.cell.blocks} blocks`,
      ...[...VERDICTS, ...money.map((word) => `money: ${word}`)].map((what) =>
        percent(rateOf(result, label(what, 0.05))?.share ?? 0),
      ),
    ]),
  );
}

function wrongSameTable(results: readonly CellResult[]): string {
  const reached = results.filter(({ cell }) => (cell.shifts[1] ?? 0) >= (cell.margin ?? 0));
  const groups = [...new Set(reached.map(({ cell }) => cell.group))];
  const whats = [
    'wrong Same, one comparison',
    'wrong Same, any comparison',
    'wrong about money, any comparison',
  ];
  return table(
    'Wrong Same and wrong words on money, % of trials (smallest to largest over designs), alpha 0.05',
    ['margin and true difference', ...whats],
    groups.map((group) => [group, ...whats.map((what) => range(ratesIn(results, group, label(what, 0.05))))]),
  );
}
