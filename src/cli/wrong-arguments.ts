import { failure, type Outcome, problem } from '../trial/problem.ts';

/** What was wrong with the words of a command line. */
export function wrong(reason: string): Outcome<never> {
  return failure(problem('error', 'argumentsWrong', {}, { reason }));
}

/** Of what Node's reader of arguments has to say. */
export function firstSentence(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  return message.split(/\.\s|\n/)[0] ?? message;
}
