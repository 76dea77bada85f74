import type { TrialDocument } from './trial-document.ts';

/** The paths of all files that a trial names, in the order in which reports list them: layout, harvest, logs of the application. */
export function filesNamed({
  layoutFile,
  harvestFiles,
  applicationFiles = [],
}: Pick<TrialDocument, 'layoutFile' | 'harvestFiles' | 'applicationFiles'>): readonly string[] {
  const layout = layoutFile === null ? [] : [layoutFile];
  return [...layout, ...harvestFiles, ...applicationFiles].map(({ path }) => path);
}
