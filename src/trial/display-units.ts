import { findCrop } from './crops.ts';
import type { RateUnit, TrialDocument, UnitSystem } from './trial-document.ts';
import {
  HA_PER_ACRE,
  KG_PER_POUND,
  kgPerHaPerBushelPerAcre,
  LITRES_PER_US_GALLON,
  M_PER_FOOT,
  M2_PER_HA,
} from './units.ts';

/** A unit in which people read a quantity: shown = SI × `perSi`. */
export interface DisplayUnit {
  readonly label: string;
  readonly perSi: number;
}

export function yieldUnit(trial: Pick<TrialDocument, 'unitSystem' | 'crop'>): DisplayUnit {
  if (trial.unitSystem === 'metric') return { label: 't/ha', perSi: 0.001 };
  const crop = findCrop(trial.crop);
  if (crop === null) return { label: 'lb/ac', perSi: HA_PER_ACRE / KG_PER_POUND };
  return { label: 'bu/ac', perSi: 1 / kgPerHaPerBushelPerAcre(crop.poundsPerBushel) };
}

export function lengthUnit(system: UnitSystem): DisplayUnit {
  return system === 'metric' ? { label: 'm', perSi: 1 } : { label: 'ft', perSi: 1 / M_PER_FOOT };
}

/** Land area for people; SI here is the hectare, as in every field of the trial document. */
export function landUnit(system: UnitSystem): DisplayUnit {
  return system === 'metric' ? { label: 'ha', perSi: 1 } : { label: 'ac', perSi: 1 / HA_PER_ACRE };
}

/** A rate that is put out, by mass, by volume or in seeds. */
export function rateUnit(inside: RateUnit, system: UnitSystem, isSmall = false): DisplayUnit {
  if (isSmall) return smallRateUnit(inside, system);
  if (system === 'metric') return { label: inside, perSi: 1 };
  if (inside === 'seeds/ha') return { label: 'seeds/ac', perSi: HA_PER_ACRE };
  return inside === 'kg/ha'
    ? { label: 'lb/ac', perSi: HA_PER_ACRE / KG_PER_POUND }
    : { label: 'gal/ac', perSi: HA_PER_ACRE / LITRES_PER_US_GALLON };
}

/** For products put out by the ounce or the millilitre, and seeds counted by the metre: 128 fluid ounces a gallon, 16 ounces a pound (NIST Handbook 44, app. C). */
function smallRateUnit(inside: RateUnit, system: UnitSystem): DisplayUnit {
  if (inside === 'seeds/ha') {
    return system === 'metric'
      ? { label: 'seeds/m²', perSi: 1 / M2_PER_HA }
      : { label: 'seeds/ft²', perSi: M_PER_FOOT ** 2 / M2_PER_HA };
  }
  if (system === 'metric') return { label: inside === 'kg/ha' ? 'g/ha' : 'mL/ha', perSi: 1000 };
  const { perSi } = rateUnit(inside, system);
  return inside === 'kg/ha'
    ? { label: 'oz/ac', perSi: 16 * perSi }
    : { label: 'fl oz/ac', perSi: 128 * perSi };
}

/** Money per unit of land: an amount per hectare × `perSi`. */
export function moneyPerLandUnit(trial: Pick<TrialDocument, 'unitSystem' | 'economics'>): DisplayUnit {
  const land = landUnit(trial.unitSystem);
  const currency = trial.economics.currency.trim() || 'money';
  return { label: `${currency}/${land.label}`, perSi: 1 / land.perSi };
}
