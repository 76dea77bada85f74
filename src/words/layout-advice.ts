import type { AdviceByCode } from './sentence.ts';

/** Problems of layouts. */
export const LAYOUT_ADVICE: AdviceByCode = {
  notJson: {
    message: 'The text is not JSON: {reason}.',
    whatToDo: 'Export it again as one whole GeoJSON file.',
  },
  notGeoJson: {
    message: 'This JSON is not a GeoJSON feature or collection of features (its type: {type}).',
    whatToDo: 'Export the strips as GeoJSON features with their treatment as a property.',
  },
  otherCoordinateSystem: {
    message: 'The coordinates are in the system {name}, not longitude and latitude of WGS 84.',
    whatToDo: 'Export it again in WGS 84 (EPSG:4326).',
  },
  layoutHasNoPolygons: {
    message: 'There is no polygon, and so no strip, among the {features} feature(s) (found: {types}).',
    whatToDo:
      'Export the strips of a layout as polygons, not as lines; the points of a harvest as points with their yields.',
  },
  featuresNotPolygons: {
    message:
      'Features that are not polygons were left out: {count}, the first is number {first} (found: {types}).',
    whatToDo: 'Nothing, if these are not strips.',
  },
  ringClosed: {
    message:
      'In feature {feature} a ring did not end where it began; it was closed ({count} such features: {features}).',
    whatToDo: 'Check the outline of that strip on the map.',
  },
  ringTooShort: {
    message:
      'In feature {feature} a ring has only {positions} different positions, which encloses nothing ({count} such features: {features}).',
    whatToDo: 'Draw that strip again with at least three corners.',
  },
  ringCrossesItself: {
    message:
      'Outlines that cross or touch themselves have no clear inside ({count} such features: {features}).',
    whatToDo: 'Put their corners in the order in which one walks around a strip, or draw them again.',
  },
  cornersWithoutStrip: {
    message: 'No column says which corners belong to one strip; the file has {headings}.',
    whatToDo: 'Add a column with the name of the strip, alike on all its corners, or say which one it is.',
  },
  brokenCoordinates: {
    message: 'Coordinates are not pairs of numbers ({count} such features: {features}).',
    whatToDo: 'Export the layout again.',
  },
  askWhichProperty: {
    message: 'Several properties could be the {role}: {candidates}.',
    whatToDo: 'Say which of them it is.',
  },
  noSuchProperty: {
    message: 'No feature has the property {property} to serve as the {role}.',
    whatToDo: 'Choose one of {properties}.',
  },
  noTreatmentProperty: {
    message: 'No property is recognised as the treatment.',
    whatToDo: 'Say which one it is; the layout has {properties}.',
  },
  featureWithoutTreatment: {
    message:
      'Features with no treatment are not taken as strips ({count}; the first is number {feature}, strip {strip}).',
    whatToDo: 'Give them a treatment if they are strips of the trial.',
  },
  featureWithoutBlock: {
    message:
      'The layout has blocks, but these strips are in none ({count}; the first is number {feature}, strip {strip}).',
    whatToDo: 'Give each strip its block.',
  },
  noBlockProperty: {
    message: 'No property is recognised as the block, so the trial is read as completely randomized.',
    whatToDo: 'Say which property is the block if there is one; the layout has {properties}.',
  },
  stripPartsJoined: {
    message:
      'Several features carry the same strip name, treatment and block ({count} strips: {strips}); they were taken as parts of one strip.',
    whatToDo: 'Give each a name of its own if they are strips of their own.',
  },
  stripIdTwice: {
    message: 'Features {otherFeature} and {feature} carry the same strip name {strip}.',
    whatToDo: 'Give each strip a name of its own.',
  },
  stripIdsMade: {
    message: 'Strips without a name were given one ({count}), such as {example}.',
    whatToDo: 'Nothing, unless a hand harvest names its strips otherwise.',
  },
  cornerNotRead: {
    message: 'This corner has no strip or no position (strip {strip}; rows of this kind: {count}).',
    whatToDo: 'Fill it in, or take the row out.',
  },
  cornersDisagree: {
    message: 'The corners of strip {strip} do not agree: "{a}" on one row, "{b}" on this one.',
    whatToDo: 'Write the same on every row of a strip.',
  },
  passesNotRead: {
    message: 'The passes of this strip cannot be read at "{part}": {fault}.',
    whatToDo: 'Write numbers and ranges with commas between, as in 3-4, 7.',
  },
  checkFoundByName: {
    message: '{treatment} was taken as the check because of its name.',
    whatToDo: 'Choose another check if this is not the one.',
  },
  severalCheckNames: {
    message: 'Several treatments are named like a check, so none was taken: {treatments}.',
    whatToDo: 'Choose the check.',
  },
};
