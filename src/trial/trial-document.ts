import * as v from 'valibot';
import { exclusionAreaSchema } from './exclusion-area.ts';
import { layoutMoveSchema } from './layout-move-schema.ts';
import { passCutSchema } from './pass-cuts.ts';
import { filledText, stripPolygonSchema } from './polygon-schema.ts';
import { stampedFileFactsSchema } from './stamped-file-facts.ts';
import { stampedFileSchema, stampedLayoutSchema } from './stamped-parts.ts';
import { stampedPassesSchema } from './stamped-passes.ts';

/**
 * The trial document, version 3 (`migrations.ts` brings older ones here): the only thing a user edits and the only thing that is kept.
 *
 * All quantities are SI or the trade's metric units, named in the field (`costPerHa`, `endMarginM`). `null` means
 * "not known" or "switched off", as each field says. The schemas check and never rewrite: an opened document is the
 * very value that was read, so fields that this version does not know survive a round trip.
 */
export const TRIAL_FORMAT = 'stripverdict-trial';
export const TRIAL_VERSION = 3;

const finite = v.pipe(v.number(), v.finite());
const notNegative = v.pipe(finite, v.minValue(0));
const positive = v.pipe(finite, v.gtValue(0));
const shift = v.pipe(finite, v.minValue(-30), v.maxValue(30));
const percent = v.pipe(finite, v.minValue(0), v.ltValue(100));

/** What is put out is counted by mass, by volume or in seeds; one is never turned into the other. */
export const RATE_UNITS = ['kg/ha', 'L/ha', 'seeds/ha'] as const;
export type RateUnit = (typeof RATE_UNITS)[number];

export const plannedApplicationSchema = v.object({
  /** As application logs name it; null: by the treatment's own name. */
  product: v.nullable(filledText),
  /** In `unit`; 0: nothing is to be put out, null: not known. */
  rate: v.nullable(notNegative),
  unit: v.picklist(RATE_UNITS),
  /** Shown by the ounce, fluid ounce, gram or millilitre, seeds by the square metre or foot; absent: by the pound, gallon, kilogram or litre, seeds by the hectare or acre. */
  inSmallUnits: v.optional(v.boolean()),
});

export const treatmentSchema = v.object({
  id: filledText,
  name: filledText,
  isCheck: v.boolean(),
  /** Product and all that is bought with it, per hectare; null: not known. */
  costPerHa: v.nullable(notNegative),
  /** Putting it out: machine, labour, wheel loss in money, per hectare; null: not known. */
  applicationCostPerHa: v.nullable(notNegative),
  /** Levels of the two factors that the treatment combines, in the order of `inference.factors`. */
  factorLevels: v.optional(v.nullable(v.strictTuple([filledText, filledText]))),
  /** What was to be put out; absent or null: not said, so that a check is to get nothing and any other its product. */
  planned: v.optional(v.nullable(plannedApplicationSchema)),
});

export const blockSchema = v.object({ id: filledText, name: filledText });

export const stripSchema = v.object({
  id: filledText,
  /** A treatment's id. */
  treatment: filledText,
  /** A block's id; null in a completely randomized trial. */
  block: v.nullable(filledText),
  /** Place across the field, counted from one edge; null: not known. */
  place: v.nullable(finite),
  polygon: v.nullable(stripPolygonSchema),
  /** Where the strip was really put, as an application log has it; wins over `polygon` in harvest. Absent or null: not known. */
  appliedPolygon: v.optional(v.nullable(stripPolygonSchema)),
  /** Row and column of a Latin square. */
  row: v.optional(v.nullable(filledText)),
  column: v.optional(v.nullable(filledText)),
  /** Of `inference.covariate`, in its own unit; null or absent: not measured. */
  covariate: v.optional(v.nullable(finite)),
  /** Harvest passes that the strip was cut in, numbered in field order, where it has no polygon; null or absent: none. */
  passes: v.optional(v.nullable(v.array(v.pipe(v.number(), v.integer(), v.minValue(1))))),
});

/** The numbered passes that `passes` of the strips speak of, so that another track is noticed. */
export const passNumberingSchema = v.object({
  /** Paths of the files whose track was cut, sorted. */
  files: v.array(filledText),
  count: v.pipe(v.number(), v.integer(), v.minValue(1)),
  /** The edge of the field that number 1 lies at. */
  from: v.picklist(['west', 'south']),
  /** From the middle of the first pass to that of the last. */
  acrossM: notNegative,
});

/** Where a user says which column or property holds what; absent roles are found by meaning. */
export const columnChoiceSchema = v.object({ heading: v.string(), unit: v.nullable(v.string()) });

/** What is asked about each yield column. null: not answered; the answer then says what was assumed. */
export const yieldColumnAnswersSchema = v.object({
  heading: v.string(),
  /** 'wet': as it came off the field; 'standard': already at the trial's standard moisture; 'percent': at `atMoisturePercent`. */
  moistureBasis: v.nullable(v.picklist(['wet', 'standard', 'percent'])),
  atMoisturePercent: v.nullable(percent),
  /** Seconds of transit lag that were already taken out before the file was written. */
  lagAppliedS: v.nullable(finite),
  alreadyFiltered: v.nullable(v.boolean()),
  loggedPosition: v.nullable(v.picklist(['antenna', 'header'])),
});

export const harvestFileSchema = v.object({
  path: filledText,
  kind: v.picklist(['points', 'hand']),
  columns: v.record(v.string(), columnChoiceSchema),
  yieldColumns: v.array(yieldColumnAnswersSchema),
  /** Shift of this file's flow, and of its moisture; absent or null: as in the harvest settings. */
  shiftLagS: v.optional(v.nullable(shift)),
  shiftMoistureS: v.optional(v.nullable(shift)),
  /** Its masses are multiplied by this, true mass over what the monitor said; absent or null: they stand as recorded. */
  calibrationFactor: v.optional(v.nullable(positive)),
  calibrationFrom: v.optional(v.nullable(v.string())),
  /** What a bushel weighs as this file counts them; absent or null: the crop's trade bushel. */
  kgPerBushel: v.optional(v.nullable(positive)),
  /** What harvested, who drove and when, in the user's words; absent or null: as the file's own columns say. */
  machine: v.optional(v.nullable(v.string())),
  operator: v.optional(v.nullable(v.string())),
  day: v.optional(v.nullable(v.string())),
});

/** A log of what was put out. */
export const applicationFileSchema = v.object({
  path: filledText,
  columns: v.record(v.string(), columnChoiceSchema),
  /** Width of the swath where the log has none, in m; null: not said. */
  swathM: v.nullable(positive),
  /** How far the boom lies behind the logged position, in m; absent or null: at it. */
  boomBehindM: v.optional(v.nullable(v.pipe(finite, v.minValue(-50), v.maxValue(50)))),
  /**
   * What a product's name in the log (blank: rows without one) stands for: the treatments (ids) that were to get it;
   * 'apart': put on all strips alike and no part of the comparison; 'stray': of the trial nowhere.
   */
  products: v.array(
    v.object({
      name: v.string(),
      means: v.picklist(['treatments', 'apart', 'stray']),
      treatments: v.array(filledText),
    }),
  ),
});

export const layoutFileSchema = v.object({
  path: filledText,
  /** Property names chosen by the user; absent ones are found by meaning. */
  properties: v.object({
    strip: v.nullable(v.string()),
    treatment: v.nullable(v.string()),
    block: v.nullable(v.string()),
  }),
});

/** Each nullable limit is off when null, except moisture limits: null there takes the crop's own. */
export const harvestSettingsSchema = v.object({
  endMarginM: notNegative,
  sideMarginM: notNegative,
  /** null: as recorded in the file. */
  headerWidthM: v.nullable(positive),
  /** Moves flow (and moisture, unless that has a shift of its own) this many seconds back along the track; 0: none. */
  shiftLagS: shift,
  /** Moves moisture alone; absent or null: as flow. */
  shiftMoistureS: v.optional(v.nullable(shift)),
  speedMinMPerS: v.nullable(notNegative),
  speedMaxMPerS: v.nullable(positive),
  speedChangePercent: v.nullable(positive),
  turnDegrees: v.nullable(positive),
  turnWithinS: positive,
  /** A recorded width below this share of the header counts as a part-width cut. */
  widthShareMin: v.nullable(v.pipe(finite, v.minValue(0), v.maxValue(1))),
  moistureMinPercent: v.nullable(percent),
  moistureMaxPercent: v.nullable(percent),
  yieldMinKgPerHa: v.nullable(notNegative),
  yieldMaxTimesMedian: v.nullable(positive),
  outlierRobustSd: v.nullable(positive),
  /** Sets aside positions that contradict the way driven; absent: on. */
  positionScreen: v.optional(v.boolean()),
  /** Sets aside points whose header went over ground that was cut before; absent: on. */
  cutBeforeScreen: v.optional(v.boolean()),
  /** Holds yields against the passes beside them in the same strip too, by `outlierRobustSd`; absent: on. */
  acrossScreen: v.optional(v.boolean()),
  /** How far the mean rate of a strip may be off its plan before that is said; absent or null: 10 %. */
  rateTolerancePercent: v.optional(v.nullable(v.pipe(finite, v.minValue(1), v.maxValue(100)))),
  /** Ground left out by hand, in the order drawn; absent: none. */
  exclusions: v.optional(v.array(exclusionAreaSchema)),
});

export const DECIDING_PROCEDURES = [
  'auto',
  't',
  'bonferroni',
  'holm',
  'dunnett',
  'tukey',
  'lsd',
  'protectedLsd',
] as const;

export const contrastWeightSchema = v.object({ treatment: filledText, weight: finite });

export const inferenceSchema = v.object({
  alpha: v.pipe(finite, v.gtValue(0), v.maxValue(0.5)),
  /** 'auto': by the number of treatments and the comparisons that matter. */
  decidedBy: v.picklist(DECIDING_PROCEDURES),
  /** 'auto': against the check where there is one, else all pairs. */
  comparisons: v.picklist(['auto', 'againstCheck', 'allPairs', 'named']),
  /** Pairs of treatment ids, used with 'named'. */
  namedPairs: v.array(v.strictTuple([filledText, filledText])),
  /** The difference below which two treatments count as the same in practice; set before harvest, absent: null. */
  marginKgPerHa: v.nullable(positive),
  /** Scale on which yields are analysed; absent or null: as measured. */
  scale: v.optional(v.nullable(v.picklist(['squareRoot', 'log']))),
  /** A trend across the field in the model, by the places of the strips; absent or null: none. */
  trend: v.optional(v.nullable(v.picklist(['linear', 'quadratic']))),
  /** Treatments are rates, named by their number; absent or null: no. */
  followsRate: v.optional(v.nullable(v.boolean())),
  /** A Latin square: rows and columns of the strips take the place of blocks; absent or null: no. */
  square: v.optional(v.nullable(v.boolean())),
  /** Name of a number measured on each strip beside the response, taken into the model; absent or null: none. */
  covariate: v.optional(v.nullable(filledText)),
  /** The machine as a term of the model, where each strip was cut by one alone; absent or null: no. */
  machineTerm: v.optional(v.nullable(v.boolean())),
  /** Names of the two factors that treatments combine; `split`: the first lies on main plots. Absent or null: none. */
  factors: v.optional(v.nullable(v.object({ first: filledText, second: filledText, split: v.boolean() }))),
  /** Weighted sums of treatments (ids), each adding up to zero. */
  contrasts: v.optional(v.array(v.pipe(v.array(contrastWeightSchema), v.minLength(2)))),
});

export const economicsSchema = v.object({
  /** What a kilogram at standard moisture brings; null: not known. */
  pricePerKg: v.nullable(positive),
  currency: v.string(),
});

/** What stood when harvest data first opened; later changes are compared with it. */
export const stampSchema = v.object({
  at: v.pipe(v.string(), v.isoTimestamp()),
  inference: inferenceSchema,
  harvest: harvestSettingsSchema,
  /** Absent: nothing was set for a file alone. */
  files: v.optional(v.array(stampedFileSchema)),
  /** What was said of each file; absent in older stamps, which then say nothing of it. */
  fileFacts: v.optional(v.array(stampedFileFactsSchema)),
  /** Absent in stamps made before version 3, which then say nothing of it. */
  layout: v.optional(stampedLayoutSchema),
  /** Absent: the layout lay as planned. */
  layoutMove: v.optional(layoutMoveSchema),
  /** What was known of the application (`stamped-application.ts`); absent: nothing. */
  application: v.optional(v.array(v.string())),
  /** Absent: not every strip has had its passes since harvest was opened. */
  passes: v.optional(stampedPassesSchema),
});

export const trialDocumentSchema = v.object({
  format: v.literal(TRIAL_FORMAT),
  version: v.literal(TRIAL_VERSION),
  name: v.string(),
  season: v.nullable(v.string()),
  /** A crop id of `crops.ts`, or the user's own word; null: not known. */
  crop: v.nullable(v.string()),
  standardMoisturePercent: v.nullable(percent),
  unitSystem: v.picklist(['metric', 'us']),
  design: v.picklist(['randomizedCompleteBlocks', 'completelyRandomized']),
  /** Were treatments put on strips by chance? null: not said. */
  randomised: v.nullable(v.boolean()),
  treatments: v.array(treatmentSchema),
  blocks: v.array(blockSchema),
  strips: v.array(stripSchema),
  /** null or absent: strips are not placed by pass, or the numbers were not held against a track yet. */
  passNumbering: v.optional(v.nullable(passNumberingSchema)),
  /** Where passes that run through several strips are cut; numbers of passes are those after it. Absent: nowhere. */
  passCuts: v.optional(v.array(passCutSchema)),
  layoutFile: v.nullable(layoutFileSchema),
  /** How the strips lie against their polygons; absent: as planned. */
  layoutMove: v.optional(layoutMoveSchema),
  harvestFiles: v.array(harvestFileSchema),
  /** Logs of what was put out where; absent: none. */
  applicationFiles: v.optional(v.array(applicationFileSchema)),
  harvest: harvestSettingsSchema,
  inference: inferenceSchema,
  economics: economicsSchema,
  stamp: v.nullable(stampSchema),
  notes: v.string(),
});

export type TrialDocument = v.InferOutput<typeof trialDocumentSchema>;
export type Treatment = v.InferOutput<typeof treatmentSchema>;
export type Block = v.InferOutput<typeof blockSchema>;
export type Strip = v.InferOutput<typeof stripSchema>;
export type PassNumbering = v.InferOutput<typeof passNumberingSchema>;
export type StripPolygon = v.InferOutput<typeof stripPolygonSchema>;
export type HarvestFile = v.InferOutput<typeof harvestFileSchema>;
export type ApplicationFile = v.InferOutput<typeof applicationFileSchema>;
export type LoggedProduct = ApplicationFile['products'][number];
export type PlannedApplication = v.InferOutput<typeof plannedApplicationSchema>;
export type LayoutFile = v.InferOutput<typeof layoutFileSchema>;
export type YieldColumnAnswers = v.InferOutput<typeof yieldColumnAnswersSchema>;
export type ColumnChoice = v.InferOutput<typeof columnChoiceSchema>;
export type HarvestSettings = v.InferOutput<typeof harvestSettingsSchema>;
export type ContrastWeight = v.InferOutput<typeof contrastWeightSchema>;
export type Inference = v.InferOutput<typeof inferenceSchema>;
export type DecidingProcedure = (typeof DECIDING_PROCEDURES)[number];
export type Economics = v.InferOutput<typeof economicsSchema>;
export type Stamp = v.InferOutput<typeof stampSchema>;
export type UnitSystem = TrialDocument['unitSystem'];
