import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { ReportModel } from '../../src/findings/report-model.ts';

const LAUNCH = fileURLToPath(new URL('../../src/cli/launch.mjs', import.meta.url));
const PROJECT_ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the binary as a user would, standing in `folder` (the project's own where none is named). */
export function stripverdict(words: readonly string[], folder: string = PROJECT_ROOT): Ran {
  const ran = spawnSync(process.execPath, [LAUNCH, ...words], {
    cwd: PROJECT_ROOT,
    env: { ...process.env, INIT_CWD: folder },
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** The report that `--json` printed: exactly one JSON object. */
export function reportOf(ran: Ran): ReportModel {
  return JSON.parse(ran.out) as ReportModel;
}
