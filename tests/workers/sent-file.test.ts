import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { stretchOf } from '../../src/intake/file-bytes.ts';
import { digestsOf, heldFiles } from '../../src/workers/sent-file.ts';

const MB = 1024 * 1024;

function bytesOf(length: number): Uint8Array<ArrayBuffer> {
  return new Uint8Array(length).map((_, i) => i * 31 + (i >> 9));
}

test('a long file is digested as Node digests it, a short one is left to the pipeline', async () => {
  const bytes = bytesOf(5 * MB);
  const files = [bytes, bytes.subarray(0, MB)].map((part) => ({ name: 'a.csv', bytes: new Blob([part]) }));
  const expected = createHash('sha256').update(bytes).digest('hex');
  expect(await digestsOf(files)).toEqual([expected, null]);
});

test('what was read ahead has the bytes of the file, and asks for the digest by its place', async () => {
  const bytes = bytesOf(5 * MB);
  const asked: number[] = [];
  const [held] = await heldFiles([{ name: 'a.csv', bytes: new Blob([bytes]) }], async (index) => {
    asked.push(index);
    return 'digest';
  });
  const middle = stretchOf(held!.bytes, MB, MB + 1000);
  expect(Buffer.compare(middle, bytes.subarray(MB, MB + 1000))).toBe(0);
  expect([await held!.sha256?.(), asked]).toEqual(['digest', [0]]);
});

test('no more is read ahead than the bound on all files together', async () => {
  const wholes: string[] = [];
  const files = ['a.csv', 'b.csv'].map((name) => {
    const bytes = new Blob([new Uint8Array(40 * MB)]);
    bytes.arrayBuffer = async () => {
      wholes.push(name);
      return new ArrayBuffer(0);
    };
    return { name, bytes };
  });
  await heldFiles(files, async () => null);
  expect(wholes).toEqual(['a.csv']);
});

test('a file that the browser no longer gives says so by name', async () => {
  const gone = new Blob([bytesOf(5 * MB)]);
  gone.arrayBuffer = () => Promise.reject(new DOMException('gone', 'NotReadableError'));
  const held = heldFiles([{ name: 'a.csv', bytes: gone }], async () => null);
  await expect(held).rejects.toThrow('a.csv was changed or moved');
});
