import { localProjection } from '../geometry/local-projection.ts';
import { cutPlaces, type PassCut, type PlacedCut, placedCuts, type WholePass } from '../trial/pass-cuts.ts';
import type { CutSpan, FieldPass } from './field-passes.ts';
import type { NumberedField } from './numbered-field.ts';
import type { PlacedFile } from './placed-file.ts';

/**
 * The field with its passes cut where the user says, for passes that run through several strips. The pieces of a pass
 * follow each other in its place, from the south (or the east) on, and all passes are numbered anew.
 */
export function cutField(field: NumberedField, cuts: readonly PassCut[]): NumberedField {
  if (cuts.length === 0) return field;
  const { passes, along } = field.field;
  const places = cutPlaces(passes, placedIn(field, cuts));
  const pieces = passes.flatMap((pass, k) =>
    piecesOf(pass, places[k]!, field.placed[pass.fileIndex]!, along),
  );
  const numbered = pieces.map((piece, k) => ({ ...piece, number: k + 1 }));
  return {
    ...field,
    field: { ...field.field, passes: numbered },
    numbering: { ...field.numbering, count: numbered.length },
  };
}

/** How many of the cuts meet no pass, or would leave too short a piece of every one that they meet. */
export function idleCuts(field: NumberedField, cuts: readonly PassCut[]): number {
  const passes: readonly WholePass[] = field.field.passes;
  return placedIn(field, cuts).filter((cut) => cutPlaces(passes, [cut]).every(({ length }) => length === 0))
    .length;
}

function placedIn({ frame, field }: NumberedField, cuts: readonly PassCut[]): readonly PlacedCut[] {
  return placedCuts(cuts, localProjection(frame), field.along);
}

function piecesOf(
  pass: FieldPass,
  places: readonly number[],
  file: PlacedFile,
  along: NumberedField['field']['along'],
): readonly FieldPass[] {
  if (places.length === 0) return [pass];
  const isForward = pass.direction === 'along';
  const ends = [pass.fromM, ...places, pass.toM];
  const spans = spansBetween(pass.spans, isForward ? places : [...places].reverse(), isForward, file, along);
  const inOrder = isForward ? spans : [...spans].reverse();
  return inOrder.map((own, k) => ({
    ...pass,
    spans: own,
    points: own.reduce((sum, { first, end }) => sum + end - first, 0),
    lengthM: own.reduce((sum, span) => sum + lengthOf(span, file), 0),
    fromM: ends[k]!,
    toM: ends[k + 1]!,
  }));
}

/** The spans of each piece, in the order driven; a jitter back over the cut does not go back to the piece before. */
function spansBetween(
  spans: readonly CutSpan[],
  places: readonly number[],
  isForward: boolean,
  { eastM, northM }: PlacedFile,
  [alongEast, alongNorth]: NumberedField['field']['along'],
): readonly (readonly CutSpan[])[] {
  const pieces: CutSpan[][] = [[], ...places.map(() => [])];
  let piece = 0;
  const isBeyond = (i: number, place: number) => {
    const alongM = eastM[i]! * alongEast + northM[i]! * alongNorth;
    return isForward ? alongM >= place : alongM <= place;
  };
  for (const { first, end } of spans) {
    let began = first;
    for (let i = first; i < end; i++) {
      while (piece < places.length && isBeyond(i, places[piece]!)) {
        addSpan(pieces[piece]!, began, i);
        began = i;
        piece += 1;
      }
    }
    addSpan(pieces[piece]!, began, end);
  }
  return pieces;
}

/** A single point has no way that it was driven. */
function addSpan(spans: CutSpan[], first: number, end: number): void {
  if (end - first >= 2) spans.push({ first, end });
}

function lengthOf({ first, end }: CutSpan, { eastM, northM }: PlacedFile): number {
  return Math.hypot(eastM[end - 1]! - eastM[first]!, northM[end - 1]! - northM[first]!);
}
