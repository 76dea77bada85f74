import type { OpenedFile } from './state/session.ts';

/** Demo trials lie in `fixtures/demo/`, one folder each; they are built in as text, since nothing may be fetched. */
const demoTexts = import.meta.glob<string>(
  ['../../fixtures/demo/*/*.json', '../../fixtures/demo/*/*.geojson', '../../fixtures/demo/*/*.csv'],
  { query: '?raw', import: 'default' },
);

export interface Demo {
  readonly folder: string;
  readonly title: string;
}

export const DEMOS: readonly Demo[] = [...new Set(Object.keys(demoTexts).map(folderOf))]
  .sort()
  .map((folder) => ({ folder, title: titleOf(folder) }));

export async function demoFiles(folder: string): Promise<readonly OpenedFile[]> {
  const paths = Object.keys(demoTexts).filter((path) => folderOf(path) === folder && !isExpectation(path));
  return Promise.all(
    paths.map(async (path) => ({
      name: path.split('/').at(-1) ?? path,
      bytes: new Blob([(await demoTexts[path]?.()) ?? '']),
    })),
  );
}

function isExpectation(path: string): boolean {
  return path.endsWith('/expected.json');
}

function folderOf(path: string): string {
  return path.split('/').at(-2) ?? path;
}

/** "fungicide-strips" reads as "Fungicide strips". */
function titleOf(folder: string): string {
  const words = folder.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
