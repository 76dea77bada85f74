import type { SwathPart } from './application-log.ts';
import type { MachineElement } from './machine-elements.ts';

/** Identifiers of ISO 11783-11: actual, default and maximum working width; offset across, to the right; all in mm. */
const WIDTHS = [67, 68, 70];
const OFFSET_ACROSS = 135;

/** Where a section lies across the machine, in metres to the right of its middle. */
export interface Section {
  readonly leftM: number;
  readonly rightM: number;
}

/** The sections of a boom from left to right; null where the description does not place each of them. */
export function sectionsOf(boom: MachineElement): readonly Section[] | null {
  const parts = boom.children.filter(({ kind }) => kind === 'section');
  const sections = parts.flatMap((part): Section[] => {
    const widthMm = widthOf(part);
    const acrossMm = part.properties.get(OFFSET_ACROSS);
    if (widthMm === null || acrossMm === undefined) return [];
    return [{ leftM: (acrossMm - widthMm / 2) / 1000, rightM: (acrossMm + widthMm / 2) / 1000 }];
  });
  if (sections.length === 0 || sections.length < parts.length) return null;
  return sections.sort((a, b) => a.leftM - b.leftM);
}

/** In mm, by the machine's description; null: it does not say. */
export function widthOf({ properties }: MachineElement): number | null {
  return WIDTHS.map((ddi) => properties.get(ddi) ?? 0).find((width) => width > 0) ?? null;
}

/** Is each section of a boom on? null: the section is not there, or its state is not known. */
export type SectionStates = readonly (boolean | null)[];

/** Two bits a section, the leftmost in the lowest bits: 0 off, 1 on, 2 error, 3 not installed (ISO 11783-11, DDI 161 ff.). */
export function statesInWord(word: number): SectionStates {
  return Array.from({ length: 16 }, (_, k) => {
    const bits = (word >>> (2 * k)) & 3;
    return bits === 1 ? true : bits === 0 ? false : null;
  });
}

/** Sections further apart than this are two parts of the boom. */
const GAP_M = 0.05;

/** The parts of the boom that were on, neighbouring sections joined; null where a section that is on has no place. */
export function partsOn(
  states: SectionStates,
  sections: readonly Section[] | null,
): readonly SwathPart[] | null {
  if (sections === null || states.lastIndexOf(true) >= sections.length) return null;
  const joined: { leftM: number; rightM: number }[] = [];
  sections.forEach(({ leftM, rightM }, k) => {
    if (states[k] !== true) return;
    const last = joined.at(-1);
    if (last !== undefined && leftM - last.rightM <= GAP_M) last.rightM = Math.max(last.rightM, rightM);
    else joined.push({ leftM, rightM });
  });
  return joined.map(({ leftM, rightM }) => ({ widthM: rightM - leftM, asideM: (leftM + rightM) / 2 }));
}
