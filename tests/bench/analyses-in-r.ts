import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { startR } from '../oracle/live-r.ts';
import { BLOCKS, TREATMENTS } from './trials-to-analyse.ts';

export interface AnalysesInR {
  readonly which: string;
  /** For all trials, start of R and reading aside. */
  readonly seconds: number;
  /** Processor time where R tells it, else null. */
  readonly processorSeconds: number | null;
  /** Sum over trials and pairs of TukeyHSD's p, to see that both computed the same. */
  readonly sumOfP: number;
}

const LAYOUT = `block <- factor(rep(1:${BLOCKS}, each = ${TREATMENTS})); treatment <- factor(rep(1:${TREATMENTS}, ${BLOCKS}));`;
const LOOP = `sum_p <- 0; began <- proc.time();
for (i in seq_len(nrow(trials))) {
  y <- trials[i, ];
  fit <- aov(y ~ block + treatment);
  hsd <- TukeyHSD(fit, "treatment");
  sum_p <- sum_p + sum(hsd$treatment[, "p adj"]);
};
took <- proc.time() - began;`;

const HOW_TO_GET_R = 'Rscript was not found; on Debian and Ubuntu: apt-get install r-base-core';
/** webr is R in WebAssembly, several times slower than R itself: fewer trials, scaled up, and a ratio that flatters. */
const TRIALS_IN_WEBR = 40;

/** aov and TukeyHSD, trial after trial in one R. */
export async function analysesInR(
  trials: readonly (readonly number[])[],
  folder: string,
): Promise<AnalysesInR> {
  return nativeR(trials, folder) ?? inWebR(trials);
}

function nativeR(trials: readonly (readonly number[])[], folder: string): AnalysesInR | null {
  const data = join(folder, 'trials.txt');
  const script = join(folder, 'aov-and-tukey.R');
  writeFileSync(data, trials.map((values) => values.join(' ')).join('\n'));
  writeFileSync(
    script,
    `trials <- as.matrix(read.table(commandArgs(TRUE)[1])); dimnames(trials) <- NULL;
${LAYOUT}
${LOOP}
cat(took[["elapsed"]], took[["user.self"]] + took[["sys.self"]], format(sum_p, digits = 15), R.version.string, sep = "\\n")
`,
  );
  const ran = spawnSync('Rscript', ['--vanilla', script, data], { encoding: 'utf8' });
  if (ran.error !== undefined) {
    console.log(`${HOW_TO_GET_R}. Going on with webr, which flatters us.`);
    return null;
  }
  if (ran.status !== 0) throw new Error(`Rscript failed: ${ran.stderr}`);
  const [seconds, processorSeconds, sumOfP, which] = ran.stdout.trim().split('\n');
  return {
    which: `native ${which}`,
    seconds: Number(seconds),
    processorSeconds: Number(processorSeconds),
    sumOfP: Number(sumOfP),
  };
}

async function inWebR(trials: readonly (readonly number[])[]): Promise<AnalysesInR> {
  const some = trials.slice(0, TRIALS_IN_WEBR);
  const r = await startR();
  const matrix = `trials <- matrix(c(${some.flat().join(',')}), ncol = ${TREATMENTS * BLOCKS}, byrow = TRUE);`;
  const began = performance.now();
  const [sumOfP] = await r.numbers(`${matrix} ${LAYOUT} ${LOOP} sum_p`);
  const seconds = (performance.now() - began) / 1000;
  r.close();
  const scale = trials.length / some.length;
  return {
    which: `webr (flatters), ${TRIALS_IN_WEBR} trials scaled up`,
    seconds: seconds * scale,
    processorSeconds: null,
    sumOfP: (sumOfP ?? Number.NaN) * scale,
  };
}
