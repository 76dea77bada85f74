/** What is put out, per area or per time, as the data dictionary has it. */
export interface LoggedRate {
  readonly ddi: number;
  readonly unit: 'L/ha' | 'kg/ha' | 'seeds/ha' | 'L/s' | 'kg/s' | 'seeds/s';
  /** Raw value × factor = value in the unit. */
  readonly factor: number;
  readonly isSetpoint: boolean;
  /** Per time: those of sections add up, and a rate comes of it where speed and width are known. */
  readonly isFlow?: true;
}

/**
 * Identifiers, units and resolutions of ISO 11783-11, the measured before the demanded and rates before flows: volume
 * per area in 0.01 mm³/m² or 0.1 ml/m², mass per area in mg/m², count per area in 0.001 /m²; volume per time in mm³/s,
 * mass per time in mg/s, count per time in 0.001 /s.
 */
export const LOGGED_RATES: readonly LoggedRate[] = [
  { ddi: 2, unit: 'L/ha', factor: 1e-4, isSetpoint: false },
  { ddi: 589, unit: 'L/ha', factor: 1, isSetpoint: false },
  { ddi: 7, unit: 'kg/ha', factor: 0.01, isSetpoint: false },
  { ddi: 12, unit: 'seeds/ha', factor: 10, isSetpoint: false },
  { ddi: 37, unit: 'L/s', factor: 1e-6, isSetpoint: false, isFlow: true },
  { ddi: 42, unit: 'kg/s', factor: 1e-6, isSetpoint: false, isFlow: true },
  { ddi: 47, unit: 'seeds/s', factor: 1e-3, isSetpoint: false, isFlow: true },
  { ddi: 1, unit: 'L/ha', factor: 1e-4, isSetpoint: true },
  { ddi: 588, unit: 'L/ha', factor: 1, isSetpoint: true },
  { ddi: 6, unit: 'kg/ha', factor: 0.01, isSetpoint: true },
  { ddi: 11, unit: 'seeds/ha', factor: 10, isSetpoint: true },
  { ddi: 36, unit: 'L/s', factor: 1e-6, isSetpoint: true, isFlow: true },
  { ddi: 41, unit: 'kg/s', factor: 1e-6, isSetpoint: true, isFlow: true },
  { ddi: 46, unit: 'seeds/s', factor: 1e-3, isSetpoint: true, isFlow: true },
];
export const ACTUAL_SPEED = 397;
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
  if (ddi === ACTUAL_SPEED) return 'speed';
  if (isCondensed(ddi)) return 'states of sections';
  return rateOf(ddi)?.isFlow === true ? 'flow' : 'rate';
}

export function rateOf(ddi: number): LoggedRate | null {
  return LOGGED_RATES.find((rate) => rate.ddi === ddi) ?? null;
}
