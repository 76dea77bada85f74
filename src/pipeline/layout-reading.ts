import type { ReadLayout } from '../intake/read-layout.ts';
import { readLayoutSource } from '../intake/read-source.ts';
import { sourceNamed } from '../intake/source-file.ts';
import type { Problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import type { InputFile } from './input-file.ts';

/** How the trial's layout file reads: what its properties are called, and which became what. */
export interface LayoutReading {
  /** null where it could not be settled; `problems` then say what is asked. */
  readonly properties: ReadLayout['properties'] | null;
  /** The file's own; where it could not be settled, those that may be meant. */
  readonly propertyNames: readonly string[];
  readonly problems: readonly Problem[];
}

/** Reads the layout file for its properties alone; null where the trial names none or it is not at hand. */
export async function layoutReading(
  { layoutFile }: TrialDocument,
  files: readonly InputFile[],
): Promise<LayoutReading | null> {
  if (layoutFile === null) return null;
  const file = sourceNamed(layoutFile.path, files);
  if (file === null) return null;
  const read = await readLayoutSource(file, layoutFile.properties);
  if (!read.ok) return { properties: null, propertyNames: namesIn(read.problems), problems: read.problems };
  const { properties, propertyNames } = read.value;
  return { properties, propertyNames, problems: read.problems };
}

function namesIn(problems: readonly Problem[]): readonly string[] {
  const lists = problems.flatMap(({ details }) => [details.properties, details.candidates]);
  return [...new Set(lists.flatMap((list) => (Array.isArray(list) ? (list as readonly string[]) : [])))];
}
