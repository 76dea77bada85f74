import { parseAst } from 'vite';

export interface FoundImport {
  readonly from: string;
  /** 'type': erased before it runs. */
  readonly kind: 'type' | 'value';
}

interface Node {
  readonly type: string;
  readonly importKind?: string;
  readonly exportKind?: string;
  readonly source?: { readonly value?: unknown } | null;
  readonly specifiers?: readonly { readonly importKind?: string }[];
  readonly [key: string]: unknown;
}

/** Every import of a source text: static, re-exported, dynamic, and `import('...')` within types. */
export function importsOf(source: string): readonly FoundImport[] {
  const found: FoundImport[] = [];
  visit(parseAst(source, { lang: 'ts' }) as unknown as Node, found);
  return found;
}

function visit(node: Node, found: FoundImport[]): void {
  const from = node.source?.value;
  if (typeof from === 'string') found.push({ from, kind: kindOf(node) });
  for (const value of Object.values(node)) visitValue(value, found);
}

function visitValue(value: unknown, found: FoundImport[]): void {
  if (Array.isArray(value)) for (const entry of value) visitValue(entry, found);
  else if (typeof value === 'object' && value !== null && 'type' in value) visit(value as Node, found);
}

function kindOf(node: Node): FoundImport['kind'] {
  if (node.type === 'TSImportType') return 'type';
  if (node.importKind === 'type' || node.exportKind === 'type') return 'type';
  const specifiers = node.specifiers ?? [];
  const allTypes = specifiers.length > 0 && specifiers.every((specifier) => specifier.importKind === 'type');
  return node.type === 'ImportDeclaration' && allTypes ? 'type' : 'value';
}
