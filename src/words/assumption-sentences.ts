import { detailsInWords } from './problem-sentences.ts';
import { type Details, fill } from './sentence.ts';

/** What was taken for granted or done because nobody said otherwise; stands beside the answer. */
const WORDS: Readonly<Record<string, string>> = {
  moistureBasisAssumedWet:
    '{file}: nobody said at which moisture {heading} was recorded; it is taken as wet and brought to {standardPercent} %.',
  headingSaysDry:
    '{file}: nobody said at which moisture {heading} was recorded, but its heading says dry, so it stands as recorded and nothing is corrected twice.',
  noMoistureColumn: '{file}: there is no moisture beside {heading}, so yields stand as recorded.',
  noStandardMoisture: '{file}: the trial has no standard moisture, so {heading} stands as recorded.',
  moistureOfYieldUnknown:
    '{file}: {heading} is said to be at a fixed moisture, but not at which, so it stands as recorded.',
  lagAssumedApplied:
    '{file}: nobody said whether the transit lag was taken out of {heading}; it is taken as done, and nothing is shifted.',
  lagShifted: '{file}: flow and moisture were moved back by {shiftLagS} s, as set.',
  shiftedApart: '{file}: flow was moved back by {shiftLagS} s and moisture by {shiftMoistureS} s, as set.',
  calibrated: '{file}: masses were multiplied by {factor}, as set (where this comes from: {from}).',
  filteredUnknown:
    '{file}: nobody said whether {heading} had been filtered before; it is taken as unfiltered.',
  loggedPositionUnknown:
    '{file}: nobody said whether the position is that of the antenna or of the header; it is taken as that of the header.',
  antennaNotMovedToHeader:
    '{file}: the position is that of the antenna; its distance to the header is not known and not corrected.',
  headerFromSetting: '{file}: the header is taken as {headerM} m wide, as set.',
  headerFromRecordedWidth:
    '{file}: the header is taken as {headerM} m wide, as nine tenths of the recorded widths are no wider.',
  headerUnknown: '{file}: the width of the header is not known; the side margin is {sideMarginM} m.',
  weighedEqually:
    '{file}: neither distance nor speed is recorded, so all points of a strip weigh alike; where speed changed, mass over area may differ.',
  evenIntervalAssumed: '{file}: no time is recorded; points are taken as logged at even intervals.',
  rowsPutInOrder:
    '{file}: rows did not stand in the order driven; they were put in order of time, each machine by itself.',
  headingFromTrack: '{file}: no heading is recorded; the direction of travel comes from the positions.',
  screensWithoutData: '{file}: these screens are on but find no column to work on: {screens}.',
  positionsNotTrusted:
    '{file}: positions that contradict the way driven are set aside: {repeated} repeat the place before, {jumped} lie farther off than the machine can have driven.',
  yieldsFromScale:
    '{file}: weights of the scale, over the ground that the strips’ passes cut (ends included), stand in place of the monitor’s yields.',
  stripsByPass:
    'Strips have no outlines: each is the ground that its own harvest passes cut, of {count} passes numbered from the {from}ern edge. The ground left out at the ends is counted from the ends of each pass, nothing is left out along the sides, and the area of a strip is not known beyond what was harvested.',
  passesCut:
    'Passes that run through several strips were cut by hand (cuts: {cuts}); each piece counts as a pass of its own, with ends of its own.',
  stretchesUnnumbered:
    'Cut stretches that are no pass over the field got no number and belong to no strip: {across} across the others, {short} shorter than a fifth of the longest pass.',
  passEndsFromYield:
    '{file}: where the header went down is not recorded, so a pass begins and ends where it yields a fifth of the usual.',
  handYieldsAveraged:
    '{file}: samples give yields without areas, so their plain mean stands for the strip: {strips}.',
  handCountsOverArea:
    '{file}: samples differ in size, so counts are taken over their ground, per square metre: {responses}.',
  handMeansByMass:
    '{file}: samples of a strip were weighed, so these are averaged by the samples’ masses: {responses}.',
  handMeansPlain:
    '{file}: not every sample of a strip has a weight beside it, so these are plain means of the samples: {responses}.',
  handMoistureFromOther:
    '{file}: has no moisture, so its weights are brought to standard by each strip’s moisture in {from}.',
};

export const ASSUMPTION_CODES_WITH_WORDS: readonly string[] = Object.keys(WORDS);

export function assumptionSentence(code: string, details: Details): string {
  const words = WORDS[code];
  return words === undefined ? `Taken for granted: ${code}.` : fill(words, detailsInWords(details));
}

/** Sentences of one file, without its name before each. */
export interface SentencesOfFile {
  /** null: of no file. */
  readonly file: string | null;
  readonly sentences: readonly string[];
}

/** Sentences in their order, those of one file together, so that its name is said once. */
export function sentencesByFile(
  sentences: readonly string[],
  files: readonly string[],
): readonly SentencesOfFile[] {
  const byFile = new Map<string | null, string[]>();
  for (const sentence of sentences) {
    const file = files.find((name) => sentence.startsWith(`${name}: `)) ?? null;
    const said = file === null ? sentence : capitalised(sentence.slice(file.length + 2));
    byFile.set(file, [...(byFile.get(file) ?? []), said]);
  }
  return [...byFile].map(([file, own]) => ({ file, sentences: own }));
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
