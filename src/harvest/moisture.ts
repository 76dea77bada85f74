/**
 * What does grain weigh, or yield, at another moisture? Moisture is percent of wet mass, so dry matter stays:
 * at standard = measured × (100 - moisture) / (100 - standard).
 *
 * Works alike for kg and kg/ha. Throws RangeError for a moisture outside [0, 100).
 *
 * Source: University of Florida, IFAS Extension, AG442 (10,000 lb at 20 % are 9,467.5 lb at 15.5 %).
 */
export function atMoisture(measured: number, moisturePercent: number, standardPercent: number): number {
  assertMoisture(moisturePercent);
  assertMoisture(standardPercent);
  return (measured * (100 - moisturePercent)) / (100 - standardPercent);
}

function assertMoisture(percent: number): void {
  if (percent >= 0 && percent < 100) return;
  throw new RangeError(`moisture: got ${percent}, expected a percentage of at least 0 and below 100`);
}
