import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { stretchOf } from '../../src/intake/file-bytes.ts';
import { heldFiles } from '../../src/workers/sent-file.ts';

const MB = 1024 * 1024;

function bytesOf(length: number): Uint8Array<ArrayBuffer> {
  return Uint8Array.from({ length }, (_, i) => (i * 31 + (i >> 9)) & 255);
}

test('a file read ahead has the bytes of the file and the SHA-256 that Node gives them', async () => {
  const bytes = bytesOf(5 * MB);
  const [held] = await heldFiles([{ name: 'a.csv', bytes: new Blob([bytes]) }]);
  expect(await held?.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
  const middle = stretchOf(held!.bytes, MB, MB + 1000);
  expect(Buffer.compare(middle, bytes.subarray(MB, MB + 1000))).toBe(0);
});

test('no more is read ahead than the bound on all files together, and the rest is digested by the pipeline', async () => {
  const blob = new Blob([new Uint8Array(40 * MB)]);
  const held = await heldFiles(['a.csv', 'b.csv'].map((name) => ({ name, bytes: blob })));
  expect(held.map(({ sha256 }) => sha256 !== undefined)).toEqual([true, false]);
});

test('a file that the browser no longer gives says so by name', async () => {
  const gone = new Blob([bytesOf(5 * MB)]);
  gone.arrayBuffer = () => Promise.reject(new DOMException('gone', 'NotReadableError'));
  await expect(heldFiles([{ name: 'a.csv', bytes: gone }])).rejects.toThrow('a.csv was changed or moved');
});
