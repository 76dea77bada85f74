import { describe, expect, test } from 'vitest';
import { handoutBody, handoutFigures, handoutPage } from '../../src/export/handout-page.ts';
import { plainText } from '../../src/export/plain-text.ts';
import { escapeMarkup } from '../../src/figures/svg-markup.ts';
import { reportProblems } from '../../src/findings/report-problems.ts';
import { problem } from '../../src/trial/problem.ts';
import { readXml, textOf } from '../figures/xml-reader.ts';
import { sampleReport } from './sample-report.ts';

const hostile = {
  treatments: ['Untreated', '<script>alert(1)</script>', '"><img src=x onerror=alert(2)>'],
  name: '</title><script>alert(3)</script>',
};

describe('the handout', () => {
  const report = sampleReport();
  const response = report.responses[0]!;
  const body = handoutBody(report, handoutFigures(report), { season: '2031' });
  const words = textOf(readXml(body));

  test('is well-formed, so nothing in it can break out of its place', () => {
    expect(readXml(body).name).toBe('article');
    expect(() =>
      readXml(handoutBody(sampleReport(hostile), handoutFigures(sampleReport(hostile)))),
    ).not.toThrow();
  });

  test('says both verdicts and the sentence of every comparison', () => {
    for (const answer of response.answers) {
      expect(words).toContain(answer.sentence);
      expect(words).toContain(`Difference ${answer.difference}Money ${answer.money ?? 'Not known'}`);
    }
  });

  test('leaves out no weakness, no late change, no assumption, and says one field, one season', () => {
    for (const weakness of response.answers.flatMap(({ weakens }) => weakens))
      expect(words).toContain(weakness);
    for (const { before, now } of report.trial.changedAfterSeeing) {
      expect(words).toContain(`was ${before}, is ${now}`);
    }
    for (const assumption of report.trial.assumptions) expect(words).toContain(assumption);
    expect(words).toContain('One field in one season');
  });

  test('and the plain text say where the strips lie, if not where they were planned', () => {
    const details = { count: 4, meanM: 1.2, mostM: 2.5 };
    const problems = reportProblems([problem('note', 'appliedPolygonsUsed', {}, details)]);
    const moved = { ...sampleReport(), problems };
    const said = 'Outlines as applied stand for those of the plan (strips: 4)';
    expect(textOf(readXml(handoutBody(moved, handoutFigures(moved))))).toContain(said);
    expect(plainText(moved).replace(/\s+/g, ' ')).toContain(said);
  });

  test('names what it was made from: season, crop, version, the beginning of each hash', () => {
    expect(words).toContain('2031');
    expect(words).toContain('maize');
    expect(words).toContain(report.madeBy);
    for (const { name, sha256 } of report.trial.files)
      expect(words).toContain(`${name} ${sha256.slice(0, 12)}`);
  });

  test('counts of points and strips are those of the model', () => {
    const read = report.strips.reduce((sum, { pointsRead }) => sum + (pointsRead ?? 0), 0);
    const kept = report.strips.reduce((sum, { pointsKept }) => sum + (pointsKept ?? 0), 0);
    expect(words).toContain(`${read} points on the strips, ${kept} kept`);
    expect(words).toContain(`${report.strips.filter(({ used }) => used).length} strips used`);
  });

  test('with more comparisons than fit in sentences, a table holds every one with its verdicts', () => {
    const all = sampleReport({ allPairs: true });
    const text = textOf(readXml(handoutBody(all, handoutFigures(all))));
    for (const { a, b, difference, money } of all.responses[0]!.answers) {
      expect(text).toContain(`${a} against ${b}${difference}${money ?? 'Not known'}`);
    }
  });

  test('without replication it gives numbers and no verdict', () => {
    const single = sampleReport({ treatments: ['A', 'B'], blocks: 1, replicated: false });
    const text = textOf(readXml(handoutBody(single, handoutFigures(single))));
    expect(text).toContain('Numbers only, no replication');
    expect(text).not.toContain('Difference Real');
  });

  test('a refusal stands where the answer would', () => {
    const refusal = { code: 'x', message: 'Only one treatment.', whatWouldHelp: 'A second one.' };
    const refused = {
      ...report,
      responses: [{ ...response, answers: [], means: [], refusal, decidedBy: null }],
    };
    const text = textOf(readXml(handoutBody(refused, handoutFigures(refused))));
    expect(text).toContain('Only one treatment. A second one.');
  });

  test('nothing analysed: the problems are said', () => {
    const problem = { code: 'x', severity: 'error', file: null, row: null, column: null } as const;
    const empty = {
      ...report,
      responses: [],
      problems: [{ ...problem, message: 'No layout.', whatToDo: 'Add it.' }],
    };
    expect(handoutFigures(empty)).toBeNull();
    expect(textOf(readXml(handoutBody(empty, null)))).toContain('No layout. Add it.');
  });
});

test('names that carry markup are shown as written, in page and title, and never run', () => {
  const page = handoutPage(sampleReport(hostile));
  expect(page).not.toContain('<script');
  expect(page).not.toContain('<img');
  expect(page).toContain(`<title>${escapeMarkup(hostile.name)}</title>`);
  expect(page).toContain("default-src 'none'");
});

describe('the plain text', () => {
  const report = sampleReport({ allPairs: true });
  const text = plainText(report);
  const flowing = text.replace(/\s+/g, ' ');

  test('holds every answer, mean, source and weakness', () => {
    const response = report.responses[0]!;
    for (const { differenceSentence, moneySentence } of response.answers) {
      expect(flowing).toContain(differenceSentence);
      expect(flowing).toContain(moneySentence);
    }
    for (const { treatment } of response.means) expect(text).toContain(treatment);
    for (const { label } of response.anova) expect(text).toContain(`\n${label}`);
    for (const weakness of response.answers.flatMap(({ weakens }) => weakens))
      expect(flowing).toContain(weakness);
    expect(text).not.toMatch(/NaN|undefined/);
  });

  test('no line is wider than a terminal of 100 columns, save tables and the answers, which are one line each', () => {
    const others = text.split('\n').filter((line) => !/^(Difference|Money): | {2}/.test(line.trimStart()));
    for (const line of others) expect(line.length).toBeLessThanOrEqual(100);
  });
});
