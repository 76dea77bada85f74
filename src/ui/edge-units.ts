import { findCrop } from '../trial/crops.ts';
import {
  type DisplayUnit,
  lengthUnit,
  moneyPerLandUnit,
  rateUnit,
  yieldUnit,
} from '../trial/display-units.ts';
import type { TrialDocument, UnitSystem } from '../trial/trial-document.ts';
import { KG_PER_POUND, M_PER_MILE } from '../trial/units.ts';

/** What a quantity of the trial document is, so that a field can show it in the trial's own units. */
export type Quantity =
  | 'plain'
  | 'percent'
  | 'yield'
  | 'length'
  | 'speed'
  | 'moneyPerLand'
  | 'price'
  | 'mass'
  | 'seconds'
  | 'massPerLand'
  | 'volumePerLand'
  | 'smallMassPerLand'
  | 'smallVolumePerLand'
  | 'seedsPerLand'
  | 'smallSeedsPerLand';

const KG_PER_TONNE = 1000;
const SECONDS_PER_HOUR = 3600;

export function unitOf(quantity: Quantity, trial: TrialDocument): DisplayUnit {
  switch (quantity) {
    case 'plain':
      return { label: '', perSi: 1 };
    case 'percent':
      return { label: '%', perSi: 1 };
    case 'seconds':
      return { label: 's', perSi: 1 };
    case 'yield':
      return yieldUnit(trial);
    case 'length':
      return lengthUnit(trial.unitSystem);
    case 'speed':
      return speedUnit(trial.unitSystem);
    case 'moneyPerLand':
      return moneyPerLandUnit(trial);
    case 'price':
      return priceUnit(trial);
    case 'massPerLand':
      return rateUnit('kg/ha', trial.unitSystem);
    case 'volumePerLand':
      return rateUnit('L/ha', trial.unitSystem);
    case 'smallMassPerLand':
      return rateUnit('kg/ha', trial.unitSystem, true);
    case 'smallVolumePerLand':
      return rateUnit('L/ha', trial.unitSystem, true);
    case 'seedsPerLand':
      return rateUnit('seeds/ha', trial.unitSystem);
    case 'smallSeedsPerLand':
      return rateUnit('seeds/ha', trial.unitSystem, true);
    case 'mass':
      return trial.unitSystem === 'metric'
        ? { label: 'kg', perSi: 1 }
        : { label: 'lb', perSi: 1 / KG_PER_POUND };
  }
}

function speedUnit(system: UnitSystem): DisplayUnit {
  return system === 'metric'
    ? { label: 'km/h', perSi: SECONDS_PER_HOUR / 1000 }
    : { label: 'mph', perSi: SECONDS_PER_HOUR / M_PER_MILE };
}

/** Price for what the yield is counted in: a tonne, a bushel of the crop, or a pound. */
function priceUnit(trial: TrialDocument): DisplayUnit {
  const currency = trial.economics.currency.trim() || 'money';
  if (trial.unitSystem === 'metric') return { label: `${currency}/t`, perSi: KG_PER_TONNE };
  const crop = findCrop(trial.crop);
  if (crop === null) return { label: `${currency}/lb`, perSi: KG_PER_POUND };
  return { label: `${currency}/bu`, perSi: crop.poundsPerBushel * KG_PER_POUND };
}

/** As text in an entry field: seven figures at most, so that a conversion's last digits do not clutter it. */
export function shownNumber(si: number | null, unit: DisplayUnit): string {
  return si === null ? '' : String(Number((si * unit.perSi).toPrecision(7)));
}

export type ReadNumber = { readonly ok: true; readonly si: number | null } | { readonly ok: false };

/** Takes a decimal point or a decimal comma; a blank is "not known". */
export function readNumber(text: string, unit: DisplayUnit): ReadNumber {
  const plain = text.trim().replace(',', '.');
  if (plain === '') return { ok: true, si: null };
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain)) return { ok: false };
  return { ok: true, si: roundedSi(Number(plain) / unit.perSi) };
}

/** A figure typed as 3.6 km/h is kept as 1 m/s, not as 1.0000000000000002. */
function roundedSi(value: number): number {
  return Number(value.toPrecision(15));
}
