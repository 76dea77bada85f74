import { expect, test } from 'vitest';
import { treatmentByBlock, treatmentByBlockCsv } from '../../src/export/pivot.ts';
import type { ReportModel } from '../../src/findings/report-model.ts';
import { sampleReport } from './sample-report.ts';

/** Our own sums, the other side of the comparison. */
function ownMean(report: ReportModel, treatment: string | null, block: string | null): number | null {
  const values = report.strips
    .filter((strip) => strip.used)
    .filter((strip) => treatment === null || strip.treatment === treatment)
    .filter((strip) => block === null || strip.block === block)
    .flatMap((strip) => strip.values[0]?.value ?? []);
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function expectSame(actual: number | null | undefined, wanted: number | null): void {
  if (wanted === null) expect(actual).toBeNull();
  else expect(Math.abs((actual ?? Number.NaN) / wanted - 1)).toBeLessThan(1e-12);
}

// Names with hyphens: the library joins its group keys by one.
const report = sampleReport({ treatments: ['a-1', 'a', '1-a', 'Untreated'], blocks: 6 });

test('cells and means agree with our own sums to 1e-12, lost strips left out', async () => {
  const pivot = await treatmentByBlock(report, 'yield');
  expect(pivot.treatments).toEqual(['a-1', 'a', '1-a', 'Untreated']);
  expect(report.strips.some(({ used }) => !used)).toBe(true);
  for (const [t, treatment] of pivot.treatments.entries()) {
    expectSame(pivot.treatmentMeans[t], ownMean(report, treatment, null));
    for (const [b, block] of pivot.blocks.entries()) {
      expectSame(pivot.cells[t]?.[b], ownMean(report, treatment, block));
    }
  }
  for (const [b, block] of pivot.blocks.entries())
    expectSame(pivot.blockMeans[b], ownMean(report, null, block));
});

test('a treatment twice in a block gives the mean of both; a trial without blocks has no columns', async () => {
  const twice = {
    ...report,
    strips: [
      ...report.strips,
      { ...report.strips[0]!, strip: 'again', values: [{ response: 'yield', value: 1, unit: 't/ha' }] },
    ],
  };
  const [first] = report.strips;
  const pivot = await treatmentByBlock(twice, 'yield');
  const row = pivot.treatments.indexOf(first!.treatment);
  expectSame(pivot.cells[row]?.[0], ((first!.values[0]?.value ?? 0) + 1) / 2);
  const loose = { ...report, strips: report.strips.map((strip) => ({ ...strip, block: null })) };
  const free = await treatmentByBlock(loose, 'yield');
  expect(free.blocks).toEqual([]);
  for (const [t, treatment] of free.treatments.entries())
    expectSame(free.treatmentMeans[t], ownMean(loose, treatment, null));
});

test('one strip, and none: no row is lost and nothing is NaN', async () => {
  const one = await treatmentByBlock({ ...report, strips: report.strips.slice(0, 1) }, 'yield');
  expectSame(one.treatmentMeans[0], report.strips[0]!.values[0]!.value);
  const none = await treatmentByBlock(report, 'a response that was not measured');
  expect(none.treatmentMeans.every((mean) => mean === null)).toBe(true);
});

test('as CSV: a row a treatment, a column a block, means last', async () => {
  const lines = (await treatmentByBlockCsv(report, 'yield')).trimEnd().split('\r\n');
  expect(lines.length).toBe(1 + 4 + 1);
  expect(lines[0]).toBe('yield (t/ha),block 1,block 2,block 3,block 4,block 5,block 6,mean');
  expect(lines.at(-1)?.startsWith('mean,')).toBe(true);
});
