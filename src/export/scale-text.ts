import type { ReportModel } from '../findings/report-model.ts';
import { fixed, NO_NUMBER } from '../words/number-formats.ts';
import { LOAD_USE_WORDS } from '../words/scale-sentences.ts';
import { type TextColumn, textTable, wrapped } from './text-table.ts';

/** Scale beside monitor, load by load; nothing where nothing was weighed. */
export function scaleText(weighed: ReportModel['weighed'], width: number): readonly string[] {
  if (weighed === null) return [];
  const { loads, unit, levelFactor, meaning } = weighed;
  const left = (heading: string, cells: readonly string[]): TextColumn => ({ heading, align: 'left', cells });
  const right = (heading: string, cells: readonly string[]): TextColumn => ({
    heading,
    align: 'right',
    cells,
  });
  return [
    'Scale beside monitor',
    ...textTable([
      left(
        'Strips',
        loads.map(({ strips }) => strips.join(' + ')),
      ),
      left(
        'Treatment',
        loads.map(({ treatments }) => treatments.join(', ')),
      ),
      left(
        'Sets',
        loads.map(({ use }) => LOAD_USE_WORDS[use]),
      ),
      right(
        `Monitor (${unit})`,
        loads.map(({ monitor }) => fixed(monitor, 3)),
      ),
      right(
        `Scale (${unit})`,
        loads.map(({ scale }) => fixed(scale, 3)),
      ),
      right(
        'Monitor / scale',
        loads.map(({ ratio }) => (ratio === null ? NO_NUMBER : fixed(ratio, 3))),
      ),
    ]),
    ...wrapped(meaning, width, ''),
    ...(levelFactor === null
      ? []
      : wrapped(
          `Strips without a weight of their own were multiplied by ${fixed(levelFactor, 3)}.`,
          width,
          '',
        )),
  ];
}
