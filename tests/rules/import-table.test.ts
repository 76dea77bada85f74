import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { IMPORT_TABLE, type RoomRule } from './import-table.ts';
import { type FoundImport, importsOf } from './imports-of.ts';
import { productSources, readProjectFile } from './source-files.ts';

const OUTSIDE_ASSETS = /\.(css|json|csv|geojson)(\?\w+)?$|\?(raw|url|worker|worker&url)$/;

function roomOf(path: string): string | null {
  const rooms = Object.keys(IMPORT_TABLE);
  return rooms.find((room) => path.startsWith(`${room}/`)) ?? null;
}

function shortName(room: string): string {
  return room.replace(/^src\//, '');
}

function objection(path: string, room: string, rule: RoomRule, found: FoundImport): string | null {
  if (!found.from.startsWith('.')) return packageObjection(path, room, rule, found.from);
  const target = posix.normalize(posix.join(posix.dirname(path), found.from));
  const targetRoom = roomOf(target);
  if (targetRoom === room) return null;
  if (targetRoom === null) return outsideObjection(path, target);
  const name = shortName(targetRoom);
  if (rule.rooms.includes(name)) return null;
  if (rule.typeRooms.includes(name)) {
    return found.kind === 'type' ? null : `${path}: take ${name} by "import type" alone (${found.from})`;
  }
  return `${path}: ${room} may not import ${targetRoom}; move the code to a room that may, or hand the value in`;
}

function outsideObjection(path: string, target: string): string | null {
  const isDemo = target.startsWith('fixtures/demo/') && path.startsWith('src/ui/');
  const isManifest = target === 'package.json';
  if ((isDemo || isManifest) && OUTSIDE_ASSETS.test(target)) return null;
  return `${path}: imports ${target}, which lies in no room; see tests/rules/import-table.ts`;
}

function packageObjection(path: string, room: string, rule: RoomRule, from: string): string | null {
  const bound = rule.packages.some((name) =>
    name.endsWith('*') ? from.startsWith(name.slice(0, -1)) : from === name || from.startsWith(`${name}/`),
  );
  return bound
    ? null
    : `${path}: the package ${from} is not bound to ${room}; bind it in tests/rules/import-table.ts with a decision in DEVELOPERS.md, or do without`;
}

describe('rooms import only what the design allows', () => {
  const sources = productSources();

  it('every source file lies in a room', () => {
    const homeless = sources.filter((path) => roomOf(path) === null);
    expect(homeless, 'move these files into a room of tests/rules/import-table.ts').toEqual([]);
  });

  it('no file imports what its room may not', () => {
    const objections = sources.flatMap((path) => {
      const room = roomOf(path);
      const rule = room === null ? undefined : IMPORT_TABLE[room];
      if (room === null || rule === undefined) return [];
      return importsOf(readProjectFile(path)).flatMap((found) => objection(path, room, rule, found) ?? []);
    });
    expect(objections).toEqual([]);
  });

  it('sees each form of import, so that none slips by', () => {
    const source = [
      "import type { A } from 'a';",
      "import { type B } from 'b';",
      "import { c } from 'c';",
      "export * from 'd';",
      "export type { E } from 'e';",
      "const f = await import('f');",
      "let g: import('g').G;",
    ].join('\n');
    const kinds = Object.fromEntries(importsOf(source).map(({ from, kind }) => [from, kind]));
    expect(kinds).toEqual({ a: 'type', b: 'type', c: 'value', d: 'value', e: 'type', f: 'value', g: 'type' });
  });

  it('reports a forbidden import with its remedy', () => {
    const rule = IMPORT_TABLE.analyses as RoomRule;
    const bad = { from: '../src/trial/units.ts', kind: 'value' } as const;
    expect(objection('analyses/x.ts', 'analyses', rule, bad)).toContain('may not import src/trial');
    expect(objection('analyses/x.ts', 'analyses', rule, { from: 'lit', kind: 'value' })).toContain(
      'not bound',
    );
  });
});
