import { openSync, readSync, statSync } from 'node:fs';
import { readPoints } from '../../src/intake/read-points.ts';

/** Reads all nine columns of a file and does nothing else with them. */
const path = process.argv[2] ?? '';
const file = openSync(path, 'r');
const buffer = new Uint8Array(4 * 1024 * 1024);
const read = (from: number, to: number) => {
  if (to - from > buffer.length) throw new Error(`asked for ${to - from} bytes at once`);
  return buffer.subarray(0, readSync(file, buffer, 0, to - from, from));
};
const points = readPoints({ size: statSync(path).size, read }, path, null, null);
if (!points.ok) throw new Error(JSON.stringify(points.problems));
const { recognition, count } = points.value;
console.log(`${count} rows, ${recognition.columns.length} columns`);
