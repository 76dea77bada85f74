import type { AdviceByCode } from './sentence.ts';

/** Problems of files of areas that are left out. */
export const AREA_ADVICE: AdviceByCode = {
  noAreasInFile: {
    message: 'This is no file of areas.',
    whatToDo: 'Hand over the areas to leave out as polygons: GeoJSON, KML, KMZ or a shapefile.',
  },
  areaStripUnknown: {
    message:
      'Area {feature} is to be cut from strip {strip} alone, which is no strip of the trial ({strips}).',
    whatToDo:
      'Write the strip as in the layout, or leave it blank to cut every strip of the block; no area was taken.',
  },
  areaWithoutWhy: {
    message:
      'Area {feature} is to be cut from strip {strip} alone and does not say why (properties: {properties}).',
    whatToDo:
      'Add a property "note" with the reason, or leave the strip blank to cut every strip of the block; no area was taken.',
  },
  areaKindNotKnown: {
    message:
      'What lies in {count} of the areas is none of wet hole, waterway, lodging, hail or tree line (the first is number {first}: {kind}); they count as another kind.',
    whatToDo: 'Nothing, or say with the area what is there.',
  },
};
