import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { reportModelSchema } from '../../src/findings/report-model.ts';
import { reportOf, stripverdict } from './run-stripverdict.ts';

/**
 * The rules of the command line (exit codes, JSON, files written) on the demo trial and on broken ones. The figures
 * of the demo prove nothing and are not looked at.
 */
const DEMO = 'fixtures/demo/fungicide-strips';
const TRIAL = `${DEMO}/trial.json`;

function scratch(): string {
  return mkdtempSync(join(tmpdir(), 'stripverdict-'));
}

describe('stripverdict answer TRIAL.json', () => {
  it('answers the demo: exit 0, valid report, one Difference and one Money line a comparison', () => {
    const asJson = stripverdict(['answer', TRIAL, '--json']);
    expect(asJson.code).toBe(0);
    const report = reportOf(asJson);
    expect(v.safeParse(reportModelSchema, report).issues).toBeUndefined();
    expect(report.trial.files.map(({ role }) => role)).toEqual(['layout', 'points']);
    const answers = report.responses.flatMap((response) => response.answers);
    const plain = stripverdict(['answer', TRIAL]);
    expect(plain.code).toBe(0);
    const lines = plain.out.split('\n');
    expect(lines.filter((line) => line.startsWith('Difference: '))).toHaveLength(answers.length);
    expect(lines.filter((line) => line.startsWith('Money: '))).toHaveLength(answers.length);
  });

  it('leaves out the areas of a file, says so, and refuses one for a single strip that does not say why', () => {
    const trial = JSON.parse(readFileSync('fixtures/demo/fungicide-strips/layout.geojson', 'utf8'));
    const [first] = trial.features;
    const areas = (properties: object) => {
      const path = join(scratch(), 'areas.geojson');
      const feature = { type: 'Feature', properties, geometry: first.geometry };
      writeFileSync(path, JSON.stringify({ type: 'FeatureCollection', features: [feature] }));
      return ['answer', TRIAL, '--leave-out', path, '--json'];
    };
    const cut = reportOf(stripverdict(areas({ kind: 'Hail' })));
    const strip = cut.strips.find((row) => row.strip === first.properties.strip)!;
    expect(strip.pointsSetAside.cutFromBlock).toBeGreaterThan(0);
    expect(strip.pointsKept).toBe(0);
    expect(cut.trial.settings['harvest.exclusions']).toContain('hail');
    const refused = stripverdict(areas({ kind: 'Hail', strip: first.properties.strip }));
    expect(refused.code).toBe(2);
    expect(reportOf(refused).problems.map(({ code }) => code)).toEqual(['areaWithoutWhy']);
  });

  it('gives the same bytes twice, and from another folder', () => {
    const first = stripverdict(['answer', TRIAL, '--json']);
    const second = stripverdict(['answer', 'trial.json', '--json'], join(process.cwd(), DEMO));
    expect(second.out).toBe(first.out);
  });

  it('--set changes a field, checked by the schema', () => {
    const wide = reportOf(stripverdict(['answer', TRIAL, '--set', 'inference.alpha=0.2', '--json']));
    expect(wide.responses[0]?.alpha).toBe(0.2);
    const bad = stripverdict(['answer', TRIAL, '--set', 'inference.alpha=2', '--json']);
    expect(bad.code).toBe(2);
    expect(reportOf(bad).problems[0]).toMatchObject({ code: 'trialDamaged' });
    expect(reportOf(bad).problems[0]?.message).toContain('inference.alpha');
    const unknown = stripverdict(['answer', TRIAL, '--set', 'inference.alhpa=0.1', '--json']);
    expect(reportOf(unknown).problems[0]?.code).toBe('noSuchField');
  });

  it('without a document takes everything from layout and harvest, and says what it assumed', () => {
    const ran = stripverdict([
      'answer',
      '--layout',
      `${DEMO}/layout.geojson`,
      '--harvest',
      `${DEMO}/harvest.csv`,
      '--json',
    ]);
    expect(ran.code).toBe(0);
    expect(reportOf(ran).trial.assumptions.length).toBeGreaterThan(0);
  });

  it('--out writes the report, tables and handout; overwrites its own files and no others', () => {
    const folder = join(scratch(), 'made', 'here');
    expect(stripverdict(['answer', TRIAL, '--out', folder]).code).toBe(0);
    const report = readFileSync(join(folder, 'report.json'), 'utf8');
    expect(stripverdict(['answer', TRIAL, '--json']).out).toBe(report);
    expect(existsSync(join(folder, 'handout.html'))).toBe(true);
    expect(stripverdict(['answer', TRIAL, '--out', folder]).code).toBe(0);
    writeFileSync(join(folder, 'report.json'), 'my own notes');
    const refused = stripverdict(['answer', TRIAL, '--out', folder]);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('report.json');
    expect(readFileSync(join(folder, 'report.json'), 'utf8')).toBe('my own notes');
  });

  const broken: readonly [string, string, string][] = [
    ['a file that is not JSON', '{ "format": ', 'trialNotJson'],
    ['JSON of another kind', '{"type":"Topology"}', 'trialNotOurs'],
    ['a document from a later version', '{"format":"stripverdict-trial","version":99}', 'trialTooNew'],
    ['a damaged document', '{"format":"stripverdict-trial","version":1,"name":7}', 'trialDamaged'],
  ];

  it.each(broken)('%s: exit 2 and a named problem', (_, text, code) => {
    const folder = scratch();
    writeFileSync(join(folder, 'trial.json'), text);
    const ran = stripverdict(['answer', 'trial.json', '--json'], folder);
    expect(ran.code).toBe(2);
    expect(reportOf(ran).problems[0]).toMatchObject({ code, file: 'trial.json' });
    const plain = stripverdict(['answer', 'trial.json'], folder);
    expect(plain.err.trim().split('\n').at(-1)).toMatch(/^stripverdict: trial\.json: /);
  });

  it('names the harvest file that is missing', () => {
    const folder = scratch();
    const trial = JSON.parse(readFileSync(TRIAL, 'utf8')) as { harvestFiles: { path: string }[] };
    for (const file of trial.harvestFiles) file.path = 'gone.csv';
    writeFileSync(join(folder, 'trial.json'), JSON.stringify({ ...trial, layoutFile: null }));
    const ran = stripverdict(['answer', 'trial.json', '--json'], folder);
    expect(ran.code).toBe(2);
    expect(reportOf(ran).problems.map(({ code, file }) => [code, file])).toContainEqual([
      'fileMissing',
      'gone.csv',
    ]);
  });
});
