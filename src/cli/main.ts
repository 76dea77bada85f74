import { MADE_BY } from '../pipeline/made-by.ts';
import { runAnswer } from './answer-command.ts';
import { EXIT } from './exit-codes.ts';
import { HELP_TEXT } from './help-text.ts';
import { runReplicates } from './replicates-command.ts';
import { runStart } from './start-command.ts';

export interface LaunchContext {
  /** Builds the app if need be and tells where it lies. */
  readonly appFolder: () => Promise<string>;
}

/** Runs one command line and tells the exit code. */
export async function run(words: readonly string[], context: LaunchContext): Promise<number> {
  try {
    return await dispatch(words, context);
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    process.stderr.write(`stripverdict: this is a fault of ours, not of your files: ${text}\n`);
    return EXIT.ourFault;
  }
}

async function dispatch(words: readonly string[], context: LaunchContext): Promise<number> {
  const [command, ...rest] = words;
  switch (command) {
    case 'answer':
      return runAnswer(rest);
    case 'replicates':
      return runReplicates(rest);
    case 'start':
      return runStart(rest, context);
    case '--version':
      process.stdout.write(`${MADE_BY}\n`);
      return EXIT.analysed;
    case undefined:
    case 'help':
    case '--help':
      process.stdout.write(HELP_TEXT);
      return command === undefined ? EXIT.badInput : EXIT.analysed;
    default:
      process.stderr.write(`stripverdict: there is no command "${command}", try stripverdict help\n`);
      return EXIT.badInput;
  }
}
