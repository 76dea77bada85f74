import type { AdviceByCode } from './sentence.ts';

/** Problems of opening and editing a trial document. */
export const TRIAL_ADVICE: AdviceByCode = {
  trialNotJson: {
    message: 'This is not a readable trial document: {reason}.',
    whatToDo: 'Choose the trial document that Stripverdict saved, or restore it from a copy.',
  },
  trialNotOurs: {
    message: 'This file is not a trial document of Stripverdict.',
    whatToDo: 'Choose a file that Stripverdict saved; layouts and harvest data are added inside a trial.',
  },
  trialTooNew: {
    message:
      'This trial was saved by a newer version of Stripverdict (document version {version}; this one reads up to {newestKnown}).',
    whatToDo: 'Update Stripverdict, or save the trial again from the version that made it.',
  },
  trialDamaged: {
    message: 'The trial document is damaged at {path}: {reason} (faults found: {faults}).',
    whatToDo: 'Correct that entry, or go back to an earlier copy of the trial.',
  },
  noSuchField: {
    message: 'The trial document has no field {path}.',
    whatToDo:
      'Check the spelling of the path; entries of a list are named by their id or their number from 0.',
  },
  exclusionCrossesItself: {
    message: 'The outline of area {area} crosses itself, so that what lies inside it cannot be told.',
    whatToDo: 'Take the area out and draw it anew, corner by corner around the ground.',
  },
  layoutMoved: {
    message: 'The strips were not taken as planned: {move}{isProposed}.',
    whatToDo: 'See on the Layout page whether they lie where they were sprayed.',
  },
  renumberingImpossible: {
    message:
      'The strips cannot be numbered from the other edge, since they do not pair up across the field: some lie end to end where others lie alone.',
    whatToDo: 'Give the strips their treatments one by one in the table of strips.',
  },
  renumberingSettled: {
    message: 'The numbering cannot be turned round any more, since a strip was removed after it was turned.',
    whatToDo: 'Take the removal back, or take the layout anew.',
  },
  edgeLineImpossible: {
    message:
      'The edge line does not lie on the earth: a longitude is beyond 180 degrees or a latitude beyond 90.',
    whatToDo: 'Check both positions, and whether longitude and latitude are exchanged.',
  },
  edgeLineLength: {
    message: 'The edge line is {lengthM} m long; the edge of a strip has 2 m to 10 km.',
    whatToDo: 'Check both positions, and whether longitude and latitude are exchanged.',
  },
  stripWidthImpossible: {
    message: 'The width of a strip must be above 0, and the gap between blocks 0 or more.',
    whatToDo: 'Correct them.',
  },
  noStripsToDraw: {
    message: 'No treatment is named, so there is no strip to draw.',
    whatToDo: 'Write the treatments in the order of the strips, one line a block.',
  },
  stripNamedTwice: {
    message: 'Two strips are called {strip}.',
    whatToDo: 'Give every strip a name of its own.',
  },
  treatmentsAdded: {
    message: 'Not in the trial yet, and added with the strips: {treatments}.',
    whatToDo: 'Check the spelling if one of them should be a treatment that is there.',
  },
  treatmentInUse: {
    message: 'The treatment {treatment} cannot be removed: it lies on {strips} strip(s).',
    whatToDo: 'Give those strips another treatment, or remove them first.',
  },
};
