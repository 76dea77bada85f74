import { INK } from './ink.ts';
import { type Attributes, element, type Markup } from './svg-markup.ts';
import type { StripPattern, TreatmentMark } from './treatment-marks.ts';

const CELL = 8;

export function patternId(figureId: string, mark: TreatmentMark, index: number): string {
  return `${figureId}-strip-${index}-${mark.pattern}`;
}

/** A treatment's filling: its colour in lines or dots on paper, told apart also without colour. */
export function patternDefinition(id: string, mark: TreatmentMark): Markup {
  const wash = { width: CELL, height: CELL, fill: mark.colour, 'fill-opacity': 0.14 };
  return element(
    'pattern',
    { id, width: CELL, height: CELL, patternUnits: 'userSpaceOnUse' },
    element('rect', { width: CELL, height: CELL, fill: INK.paper }),
    element('rect', wash),
    ...motif(mark.pattern, mark.colour),
  );
}

function motif(pattern: StripPattern, colour: string): readonly Markup[] {
  const ink: Attributes = { stroke: colour, 'stroke-width': 1.3, fill: 'none' };
  switch (pattern) {
    case 'plain':
      return [];
    case 'rising':
      return [element('path', { d: 'M-2 2L2 -2M0 8L8 0M6 10L10 6', ...ink })];
    case 'falling':
      return [element('path', { d: 'M-2 6L2 10M0 0L8 8M6 -2L10 2', ...ink })];
    case 'upright':
      return [element('path', { d: 'M2 0V8M6 0V8', ...ink })];
    case 'level':
      return [element('path', { d: 'M0 2H8M0 6H8', ...ink })];
    case 'dots':
      return [
        element('circle', { cx: 2, cy: 2, r: 1.1, fill: colour }),
        element('circle', { cx: 6, cy: 6, r: 1.1, fill: colour }),
      ];
    case 'lattice':
      return [element('path', { d: 'M0 4H8M4 0V8', ...ink })];
    case 'dashes':
      return [element('path', { d: 'M0 2H4M4 6H8', ...ink })];
  }
}
