import { newTrial } from '../../src/trial/starting-settings.ts';
import type { TrialDocument } from '../../src/trial/trial-document.ts';

/** An invented trial of two treatments in two blocks. */
export function smallTrial(changes: Partial<TrialDocument> = {}): TrialDocument {
  const strip = (id: string, treatment: string, block: string, place: number) => ({
    id,
    treatment,
    block,
    place,
    polygon: null,
  });
  return {
    ...newTrial('Two by two'),
    treatments: [
      { id: 'untreated', name: 'Untreated', isCheck: true, costPerHa: null, applicationCostPerHa: null },
      { id: 'leaf', name: 'Leaf feed', isCheck: false, costPerHa: 30, applicationCostPerHa: 12 },
    ],
    blocks: [
      { id: 'b1', name: 'East' },
      { id: 'b2', name: 'West' },
    ],
    strips: [
      strip('s1', 'untreated', 'b1', 1),
      strip('s2', 'leaf', 'b1', 2),
      strip('s3', 'leaf', 'b2', 3),
      strip('s4', 'untreated', 'b2', 4),
    ],
    ...changes,
  };
}
