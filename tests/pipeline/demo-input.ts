import { readFileSync } from 'node:fs';
import type { InputFile } from '../../src/pipeline/input-file.ts';
import { openTrial } from '../../src/trial/open-trial.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';

const FOLDER = new URL('../../fixtures/demo/fungicide-strips/', import.meta.url);

/** The demo trial's files: a trial of full size to try the path of the data on; its figures prove nothing. */
export function demoFile(name: string): InputFile {
  return { name, bytes: readFileSync(new URL(name, FOLDER)) };
}

export function demoTrial(): TrialDocument {
  const opened = openTrial(readFileSync(new URL('trial.json', FOLDER), 'utf8'));
  if (!opened.ok) throw new Error(`the demo trial does not open: ${JSON.stringify(opened.problems)}`);
  return opened.value;
}

export function textFile(name: string, text: string): InputFile {
  return { name, bytes: new TextEncoder().encode(text) };
}
