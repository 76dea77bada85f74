import {
  type ApplicationFile,
  type HarvestSettings,
  type Inference,
  TRIAL_FORMAT,
  TRIAL_VERSION,
  type TrialDocument,
} from './trial-document.ts';

/** Starting settings for screening a yield-monitor file: all common practice, all editable. */
export const STARTING_HARVEST_SETTINGS: HarvestSettings = {
  endMarginM: 20,
  sideMarginM: 1,
  headerWidthM: null,
  shiftLagS: 0,
  speedMinMPerS: 0.8,
  speedMaxMPerS: 3.6,
  speedChangePercent: 20,
  turnDegrees: 20,
  turnWithinS: 3,
  widthShareMin: 0.9,
  moistureMinPercent: null,
  moistureMaxPercent: null,
  yieldMinKgPerHa: 0,
  yieldMaxTimesMedian: 2.5,
  outlierRobustSd: 3,
};

export const STARTING_INFERENCE: Inference = {
  alpha: 0.05,
  decidedBy: 'auto',
  comparisons: 'auto',
  namedPairs: [],
  marginKgPerHa: null,
};

/** A log of the application of which nothing was answered yet. */
export function newApplicationFile(path: string): ApplicationFile {
  return { path, columns: {}, swathM: null, products: [] };
}

export function newTrial(name: string): TrialDocument {
  return {
    format: TRIAL_FORMAT,
    version: TRIAL_VERSION,
    name,
    season: null,
    crop: null,
    standardMoisturePercent: null,
    unitSystem: 'metric',
    design: 'randomizedCompleteBlocks',
    randomised: null,
    treatments: [],
    blocks: [],
    strips: [],
    layoutFile: null,
    harvestFiles: [],
    harvest: { ...STARTING_HARVEST_SETTINGS },
    inference: { ...STARTING_INFERENCE, namedPairs: [] },
    economics: { pricePerKg: null, currency: '' },
    stamp: null,
    notes: '',
  };
}
