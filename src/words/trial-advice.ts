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
  treatmentInUse: {
    message: 'The treatment {treatment} cannot be removed: it lies on {strips} strip(s).',
    whatToDo: 'Give those strips another treatment, or remove them first.',
  },
};
