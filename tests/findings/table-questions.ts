import { readFileSync } from 'node:fs';
import type { ReportModel } from '../../src/findings/report-model.ts';
import { analyseTable, type TableQuestion } from '../../src/pipeline/analyse-table.ts';

const PLAIN: TableQuestion = {
  treatment: null,
  block: null,
  responses: [],
  subsamples: false,
  unit: null,
  check: null,
  alpha: null,
  margin: null,
  better: 'higher',
  compare: 'auto',
};

type Design = NonNullable<TableQuestion['design']>;

export interface Asked extends Partial<Omit<TableQuestion, 'design'>> {
  readonly design?: Partial<Design>;
}

const NO_COLUMNS: Design = { row: null, column: null, factors: [], covariate: null, trend: null };

/** From the text of a CSV to the report, as `stripverdict answer --table` goes. */
export function reportOfText(text: string, { design, ...asked }: Asked): ReportModel {
  const question = { ...PLAIN, ...asked, design: { ...NO_COLUMNS, ...design } };
  return analyseTable({ name: 'plots.csv', bytes: new TextEncoder().encode(text) }, question).report;
}

export function reportOfFixture(name: string, asked: Asked): ReportModel {
  return reportOfText(fixtureText(name), asked);
}

export function fixtureText(name: string): string {
  return readFileSync(new URL(`../../fixtures/${name}/data.csv`, import.meta.url), 'utf8');
}
