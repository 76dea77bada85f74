import type { Outcome, Problem } from '../../src/trial/problem.ts';

export function asBytes(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function utf16(text: string, order: 'le' | 'be'): Uint8Array {
  const bytes = new Uint8Array(2 + text.length * 2);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0xfeff, order === 'le');
  for (let i = 0; i < text.length; i += 1) view.setUint16(2 + i * 2, text.charCodeAt(i), order === 'le');
  return bytes;
}

export function taken<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`refused: ${JSON.stringify(outcome.problems)}`);
  return outcome.value;
}

export function codesOf(outcome: { readonly problems: readonly Problem[] }): string[] {
  return outcome.problems.map(({ code }) => code);
}

export function problemOf(outcome: { readonly problems: readonly Problem[] }, code: string): Problem {
  const found = outcome.problems.find((candidate) => candidate.code === code);
  if (found === undefined) throw new Error(`no ${code} among ${JSON.stringify(outcome.problems)}`);
  return found;
}
