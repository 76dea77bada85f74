import { greatCircleKm } from '../geometry/great-circle.ts';
import type { LocalFrame } from '../geometry/local-projection.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { HarvestPointsInput } from './harvest-input.ts';
import { medianOf } from './logging-interval.ts';

/** Two files this near each other are of the same field. */
const SAME_FIELD_KM = 20;

/**
 * No point of a file lies in any strip: how far away is it, and would exchanging longitude and latitude, or turning
 * the sign of either, bring it home? Distances are between the strips' middle and the points' median position.
 */
export function farPoints(
  file: HarvestPointsInput,
  frame: LocalFrame,
  severity: Problem['severity'],
): Problem {
  const longitude = medianOf(file.longitude.filter(Number.isFinite));
  const latitude = medianOf(file.latitude.filter(Number.isFinite));
  const isPlaced = longitude !== null && latitude !== null;
  const { originLongitude, originLatitude } = frame;
  const distanceKm = isPlaced ? greatCircleKm(longitude, latitude, originLongitude, originLatitude) : null;
  const swappedKm = isPlaced ? greatCircleKm(latitude, longitude, originLongitude, originLatitude) : null;
  const isFar = distanceKm !== null && distanceKm > SAME_FIELD_KM;
  const swapFits = isFar && swappedKm !== null && swappedKm < SAME_FIELD_KM;
  const turned = isPlaced
    ? [
        [-longitude, latitude],
        [longitude, -latitude],
      ].map(([east, north]) => greatCircleKm(east!, north!, originLongitude, originLatitude))
    : [];
  const signFits = isFar && turned.some((km) => km < SAME_FIELD_KM);
  return problem(
    severity,
    'pointsFarFromStrips',
    { file: file.file },
    { distanceKm, swapFits, signFits, points: file.count },
  );
}
