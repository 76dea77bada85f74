/** A rate per area of the data dictionary. */
export interface LoggedRate {
  readonly ddi: number;
  readonly unit: 'L/ha' | 'kg/ha' | 'count';
  /** Raw value × factor = value in the unit. */
  readonly factor: number;
  readonly isSetpoint: boolean;
}

/**
 * Identifiers, units and resolutions of ISO 11783-11, the measured before the demanded: volume per area in 0.01 mm³/m²
 * or 0.1 ml/m², mass per area in mg/m², count per area in 0.001 /m².
 */
export const LOGGED_RATES: readonly LoggedRate[] = [
  { ddi: 2, unit: 'L/ha', factor: 1e-4, isSetpoint: false },
  { ddi: 589, unit: 'L/ha', factor: 1, isSetpoint: false },
  { ddi: 7, unit: 'kg/ha', factor: 0.01, isSetpoint: false },
  { ddi: 12, unit: 'count', factor: 10, isSetpoint: false },
  { ddi: 1, unit: 'L/ha', factor: 1e-4, isSetpoint: true },
  { ddi: 588, unit: 'L/ha', factor: 1, isSetpoint: true },
  { ddi: 6, unit: 'kg/ha', factor: 0.01, isSetpoint: true },
  { ddi: 11, unit: 'count', factor: 10, isSetpoint: true },
];
export const WORKING_WIDTH = 67;
export const WORK_STATE = 141;
export const CONDENSED_FIRST = 161;
const CONDENSED_LAST = 176;
/** Yield per area or time, wet or dry: what such a log is of was cut, not put out. */
export const HARVESTED = [83, 84, 86, 87, 181, 182];

export function isCondensed(ddi: number): boolean {
  return ddi >= CONDENSED_FIRST && ddi <= CONDENSED_LAST;
}

export function quantityWords(ddi: number): string {
  if (ddi === WORKING_WIDTH) return 'width';
  if (ddi === WORK_STATE) return 'work state';
  return isCondensed(ddi) ? 'states of sections' : 'rate';
}

export function rateOf(ddi: number): LoggedRate | null {
  return LOGGED_RATES.find((rate) => rate.ddi === ddi) ?? null;
}
