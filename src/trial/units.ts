/**
 * Units at the edges. Inside, lengths are m, areas m² (fields that say Ha: hectares), masses kg, yields kg/ha,
 * speeds m/s, flows kg/s. Exact by definition: pound (1959 international agreement), acre of the international
 * foot, US liquid gallon.
 */
export const KG_PER_POUND = 0.45359237;
export const HA_PER_ACRE = 0.40468564224;
export const M_PER_FOOT = 0.3048;
export const M_PER_INCH = 0.0254;
export const M_PER_MILE = 1609.344;
export const LITRES_PER_US_GALLON = 3.785411784;
export const M2_PER_HA = 10_000;

/** Kilograms per hectare in one bushel per acre, for a crop's pounds per bushel. */
export function kgPerHaPerBushelPerAcre(poundsPerBushel: number): number {
  return (KG_PER_POUND / HA_PER_ACRE) * poundsPerBushel;
}
