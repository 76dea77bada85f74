/** Shown wherever spraying is planned or recorded (common practice; the label and the law come first). */
export const SPRAYING_CAUTIONS: readonly string[] = [
  'The product label is the law: follow its rate, timing, crop stage, buffer zones and pre-harvest interval.',
  'Follow the local rules on pesticides, drinking water and protected areas, and tell neighbours where they ask for it.',
  'Spraying is for licensed applicators; wear the protective equipment that the label names.',
  'Keep to the label limits on wind and drift, and stop when conditions leave them.',
  'Rinse tank, lines and nozzles between products, and dispose of rinsate and leftovers as the label and local codes say.',
  'Crop from strips treated with products not registered for it may have to be destroyed; ask before harvest.',
  'The figures of this program are arithmetic; they replace neither the label nor licensed judgement.',
];

/** In addition, where a drone sprays. */
export const DRONE_CAUTIONS: readonly string[] = [
  'Spraying from a drone needs the pilot and operator approvals of the local aviation authority.',
  'Check the airspace, keep people and animals out of the area, and keep the drone in sight as the rules ask.',
  'Measure the effective swath with cards for this height, speed and nozzle before trusting strip widths.',
];

export function sprayingCautions(byDrone: boolean): readonly string[] {
  return byDrone ? [...SPRAYING_CAUTIONS, ...DRONE_CAUTIONS] : SPRAYING_CAUTIONS;
}

/** Printed under every report: what the figures are not. */
export const REPORT_CAUTION =
  'Figures come from this trial alone. For any use of a product the label, local rules and licensed advice come first.';
