import { type LocalFrame, localProjection } from '../geometry/local-projection.ts';
import { polygonFinder } from '../geometry/polygon-finder.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { failure, type Outcome, type Problem, problem, success } from '../trial/problem.ts';
import type { HarvestSettings, TrialDocument } from '../trial/trial-document.ts';
import { groundByPass } from './ground-by-pass.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import type { MeasuredFile } from './measured-file.ts';
import { type ChosenPasses, choosePasses } from './pass-choice.ts';
import { placePasses } from './pass-placement.ts';
import { type PlacedFile, placeFile } from './placed-file.ts';
import type { Assumption } from './problem-codes.ts';
import { type StripGround, stripGrounds } from './strip-ground.ts';

/** Where the strips lie, and how points come to them. */
export interface HarvestGround {
  readonly frame: LocalFrame;
  /** One a strip of the trial; null: no ground is known. */
  readonly grounds: readonly (StripGround | null)[];
  /** As drawn, with an area of its own; else what the strip's passes cut, and its area is not known. */
  readonly isDrawn: boolean;
  readonly place: (file: HarvestPointsInput, index: number) => PlacedFile;
  readonly choose: (files: readonly MeasuredFile[], settings: HarvestSettings) => ChosenPasses;
  readonly assumptions: readonly Assumption[];
  readonly problems: readonly Problem[];
  /** Where passes are numbered across the field: the number at a place of a driven file; null: in none. */
  readonly fieldPassAt?: (fileIndex: number, at: number) => number | null;
}

/**
 * The ground of the trial's strips: their polygons where they have any, else the harvest passes that were assigned to
 * them. Refuses with `noStripPolygons` (neither), `stripsDrawnAndByPass` (some of each), `noHarvestFile`, and as
 * `groundByPass` does.
 */
export function harvestGround(
  trial: TrialDocument,
  files: readonly HarvestPointsInput[],
): Outcome<HarvestGround> {
  const drawn = trial.strips.filter(({ polygon }) => polygon !== null);
  const byPass = trial.strips.filter(({ passes }) => (passes?.length ?? 0) > 0);
  if (drawn.length > 0 && byPass.length > 0) {
    const details = { drawn: drawn.length, byPass: byPass.length, strips: byPass.map(({ id }) => id) };
    return failure(problem('error', 'stripsDrawnAndByPass', {}, details));
  }
  const frame = frameOfStrips(trial.strips);
  if (frame === null && byPass.length === 0) return failure(problem('error', 'noStripPolygons'));
  if (files.length === 0) return failure(problem('error', 'noHarvestFile'));
  return frame === null ? groundByPass(trial, files) : success(drawnGround(trial, frame));
}

function drawnGround(trial: TrialDocument, frame: LocalFrame): HarvestGround {
  const byIndex = new Map(stripGrounds(trial.strips, frame).map((ground) => [ground.index, ground]));
  const grounds = trial.strips.map((_, index) => byIndex.get(index) ?? null);
  const finder = polygonFinder(grounds.map((ground) => ground?.polygon ?? null));
  const projection = localProjection(frame);
  return {
    frame,
    grounds,
    isDrawn: true,
    place: (file) => placeFile(file, projection, finder),
    choose: (files, settings) =>
      choosePasses(
        files.map((file) => placePasses(file, grounds, settings)),
        grounds,
      ),
    assumptions: [],
    problems: undrawnStrips(trial),
  };
}

function undrawnStrips(trial: TrialDocument): Problem[] {
  const strips = trial.strips.filter(({ polygon }) => polygon === null).map(({ id }) => id);
  return strips.length === 0
    ? []
    : [problem('warning', 'stripsWithoutPolygon', {}, { strips, count: strips.length })];
}
