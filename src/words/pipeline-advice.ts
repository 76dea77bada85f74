import type { AdviceByCode } from './sentence.ts';

/** Problems of getting from files and the words of a command to a report, and from a report to files. */
export const PIPELINE_ADVICE: AdviceByCode = {
  fileMissing: {
    message: 'The file {path} was not found.',
    whatToDo: 'Put the file beside the trial document, or hand it over again under this name.',
  },
  notAFile: {
    message: '{path} is not a file.',
    whatToDo: 'Name the file itself, not its folder.',
  },
  fileUnreadable: {
    message: 'The file {path} cannot be opened ({reason}).',
    whatToDo: 'Check that it is not open elsewhere and that you may read it.',
  },
  fileNotUsed: {
    message: 'The trial document does not name this file, so it was not used.',
    whatToDo: 'Take it in as layout or harvest, or leave it away.',
  },
  notALayout: {
    message: 'This was to be the layout, but it holds neither outlines of strips nor a list of them.',
    whatToDo:
      'Hand over polygons (GeoJSON, KML, shapefile), a table with one row a corner, or a list of strips with their treatments.',
  },
  severalLayouts: {
    message:
      'Several of these files are layouts: {files}. Which one holds cannot be told, so none was taken.',
    whatToDo: 'Hand over one of them, or one file that holds all strips.',
  },
  fileTwice: {
    message:
      'These harvest files hold the very same bytes: {files}. Each of their points counts more than once.',
    whatToDo: 'Take all but one of them out of the trial.',
  },
  noLayout: {
    message: 'The trial has no strips.',
    whatToDo:
      'Hand over a layout (GeoJSON with a polygon a strip), or enter the strips in the trial document.',
  },
  noHarvest: {
    message: 'The trial has strips but no harvest file.',
    whatToDo: 'Hand over the file of the yield monitor, or a table of weights.',
  },
  treatmentOnNoStrip: {
    message: 'The treatment {treatment} is on no strip of the layout.',
    whatToDo: 'Check its spelling in the layout, or remove it from the trial.',
  },
  argumentsWrong: {
    message: 'The command was not understood: {reason}.',
    whatToDo: 'Run stripverdict help for what it takes.',
  },
  wouldOverwrite: {
    message: 'A file of this name in {folder} was not written by stripverdict, or was changed since.',
    whatToDo: 'Choose another folder, or move that file away; nothing was written.',
  },
  cannotWrite: {
    message: 'The folder {folder} cannot be written ({reason}).',
    whatToDo: 'Choose a folder that you may write to.',
  },
  cleaningsNotTried: {
    message: 'Whether the cleaning decides was not tried, since that takes a while with {points} points.',
    whatToDo: 'Ask for it on the Harvest page, or with --cleanings on the command line.',
  },
  cleaningsNotComparable: {
    message: 'Whether the cleaning decides cannot be said of this analysis.',
    whatToDo: 'Change the cleaning settings by hand and see whether the answer holds.',
  },
  cancelled: {
    message: 'Stopped before the end, as asked.',
    whatToDo: 'Start it again when you want the answer.',
  },
};
