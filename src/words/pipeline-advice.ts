import type { AdviceByCode } from './sentence.ts';

/** Problems of getting from files to a report. */
export const PIPELINE_ADVICE: AdviceByCode = {
  fileMissing: {
    message: 'The file {path} was not found.',
    whatToDo: 'Put the file beside the trial document, or hand it over again under this name.',
  },
  hashChanged: {
    message: 'The file {path} is no longer the one that was read before.',
    whatToDo: 'Use the original file, or accept the new one and say in the notes why it changed.',
  },
  tooLarge: {
    message: 'The file is too large to be read here ({megabytes} MB; the limit is {limitMegabytes} MB).',
    whatToDo: 'Cut it down to the field of the trial, or split it into several files.',
  },
};
