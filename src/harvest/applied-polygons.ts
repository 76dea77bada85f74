import { polygonCentroid, toLocalPolygon } from '../geometry/local-polygon.ts';
import { localProjection } from '../geometry/local-projection.ts';
import { frameOfStrips } from '../trial/frame-of-strips.ts';
import { trialAsItLies } from '../trial/layout-as-it-lies.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { TrialDocument } from '../trial/trial-document.ts';

/** Says that outlines as applied stand for those of the plan, and how far apart their middles lie. */
export function appliedPolygonsNote(trial: TrialDocument): readonly Problem[] {
  if (trial.strips.every(({ appliedPolygon }) => !appliedPolygon)) return [];
  const planned = trialAsItLies({
    ...trial,
    strips: trial.strips.map(({ appliedPolygon: _, ...strip }) => strip),
  });
  const frame = frameOfStrips(trialAsItLies(trial).strips);
  if (frame === null) return [];
  const projection = localProjection(frame);
  const apart = trial.strips.flatMap(({ appliedPolygon }, index) => {
    const plan = planned.strips[index]?.polygon ?? null;
    if (!appliedPolygon || plan === null) return [];
    const [a, b] = [plan, appliedPolygon].map((one) => polygonCentroid(toLocalPolygon(one, projection)));
    return [Math.hypot(a![0] - b![0], a![1] - b![1])];
  });
  if (apart.length === 0) return [];
  const details = {
    count: apart.length,
    meanM: inCm(apart.reduce((sum, own) => sum + own, 0) / apart.length),
    mostM: inCm(Math.max(...apart)),
  };
  return [problem('note', 'appliedPolygonsUsed', {}, details)];
}

/** To the centimetre: positions are known no better. */
function inCm(metres: number): number {
  return Math.round(100 * metres) / 100;
}
