import { polygonCrossesItself } from '../geometry/self-crossing.ts';
import type { ExclusionArea } from './exclusion-area.ts';
import { pinnedLayout, renumberedStrips } from './layout-as-it-lies.ts';
import type { LayoutMove } from './layout-move-schema.ts';
import { validateTrial } from './open-trial.ts';
import { type PassCut, renumberedLists } from './pass-cuts.ts';
import { isSameNumbering } from './pass-numbering.ts';
import { failure, type Outcome, problem } from './problem.ts';
import { setAtPath } from './set-at-path.ts';
import { stampedApplication } from './stamped-application.ts';
import { stampedFileFacts } from './stamped-file-facts.ts';
import { stampedFiles, stampedLayout } from './stamped-parts.ts';
import { renumberedStamp, stampedPasses } from './stamped-passes.ts';
import type {
  ApplicationFile,
  Block,
  Economics,
  HarvestFile,
  HarvestSettings,
  Inference,
  LayoutFile,
  LoggedProduct,
  PassNumbering,
  Strip,
  StripPolygon,
  Treatment,
  TrialDocument,
} from './trial-document.ts';

/**
 * Every edit of a trial document is one of these named commands, so that undo, history and a second tab come
 * from one place. Applying one is pure and yields either a valid document or the problem that stopped it.
 */
export type TrialCommand =
  | { readonly name: 'openTrial'; readonly trial: TrialDocument }
  | { readonly name: 'describeTrial'; readonly changes: Partial<TrialDescription> }
  | { readonly name: 'addTreatment'; readonly treatment: Treatment }
  | {
      readonly name: 'changeTreatment';
      readonly id: string;
      readonly changes: Partial<Omit<Treatment, 'id'>>;
    }
  | { readonly name: 'removeTreatment'; readonly id: string }
  | { readonly name: 'chooseCheck'; readonly id: string | null }
  | { readonly name: 'takeLayout'; readonly layout: TakenLayout }
  | { readonly name: 'moveLayout'; readonly move: LayoutMove | null }
  | {
      readonly name: 'changeStrip';
      readonly id: string;
      readonly changes: Partial<Omit<Strip, 'id' | 'polygon'>>;
    }
  | { readonly name: 'removeStrip'; readonly id: string }
  | {
      readonly name: 'assignPasses';
      /** By strip id; strips that are not named keep theirs. */
      readonly passesOfStrips: Readonly<Record<string, readonly number[]>>;
      readonly numbering: PassNumbering;
    }
  | {
      readonly name: 'cutPasses';
      /** All cuts from now on. */
      readonly cuts: readonly PassCut[];
      /** For each number that a pass had (from 1), those that its pieces have now. */
      readonly becomes: readonly (readonly number[])[];
      readonly numbering: PassNumbering;
    }
  | { readonly name: 'addStrip'; readonly strip: Strip }
  | { readonly name: 'takeHarvestFile'; readonly file: HarvestFile }
  | {
      readonly name: 'changeHarvestFile';
      readonly path: string;
      readonly changes: Partial<Omit<HarvestFile, 'path'>>;
    }
  | { readonly name: 'removeHarvestFile'; readonly path: string }
  | { readonly name: 'takeApplicationFile'; readonly file: ApplicationFile }
  | {
      readonly name: 'changeApplicationFile';
      readonly path: string;
      readonly changes: Partial<Omit<ApplicationFile, 'path'>>;
    }
  | { readonly name: 'removeApplicationFile'; readonly path: string }
  | { readonly name: 'takeAppliedPolygons'; readonly strips: readonly AppliedPolygon[] }
  | { readonly name: 'changeHarvestSettings'; readonly changes: Partial<HarvestSettings> }
  | { readonly name: 'addExclusion'; readonly area: ExclusionArea }
  | {
      readonly name: 'changeExclusion';
      readonly id: string;
      readonly changes: Partial<Omit<ExclusionArea, 'id'>>;
    }
  | { readonly name: 'removeExclusion'; readonly id: string }
  | { readonly name: 'changeInference'; readonly changes: Partial<Inference> }
  | { readonly name: 'changeEconomics'; readonly changes: Partial<Economics> }
  | { readonly name: 'stampSettings'; readonly at: string }
  | { readonly name: 'setField'; readonly path: string; readonly value: unknown };

export type TrialDescription = Pick<
  TrialDocument,
  'name' | 'season' | 'crop' | 'standardMoisturePercent' | 'unitSystem' | 'design' | 'randomised' | 'notes'
>;

export interface TakenLayout {
  readonly file: LayoutFile | null;
  readonly treatments: readonly Treatment[];
  readonly blocks: readonly Block[];
  readonly strips: readonly Strip[];
}

/** Where a strip was really put; null takes that back. */
export interface AppliedPolygon {
  readonly id: string;
  readonly polygon: StripPolygon | null;
}

export function applyCommand(trial: TrialDocument, command: TrialCommand): Outcome<TrialDocument> {
  const edited = edit(trial, command);
  return isObjection(edited)
    ? failure(problem('error', edited.problemCode, {}, edited.details))
    : validateTrial(edited);
}

interface Objection {
  readonly problemCode: string;
  readonly details: Record<string, string | number>;
}

function isObjection(edited: TrialDocument | Objection): edited is Objection {
  return 'problemCode' in edited;
}

function edit(trial: TrialDocument, command: TrialCommand): TrialDocument | Objection {
  switch (command.name) {
    case 'openTrial':
      return command.trial;
    case 'describeTrial':
      return { ...trial, ...command.changes };
    case 'addTreatment':
      return { ...trial, treatments: [...trial.treatments, command.treatment] };
    case 'changeTreatment':
      return { ...trial, treatments: changeById(trial.treatments, command.id, command.changes) };
    case 'removeTreatment':
      return removeTreatment(trial, command.id);
    case 'chooseCheck':
      return { ...trial, treatments: trial.treatments.map((t) => ({ ...t, isCheck: t.id === command.id })) };
    case 'takeLayout':
      return takeLayout(trial, command.layout);
    case 'moveLayout':
      return moveLayout(trial, command.move);
    case 'changeStrip':
      return { ...trial, strips: changeById(trial.strips, command.id, command.changes) };
    case 'removeStrip':
      return removeStrip(trial, command.id);
    case 'assignPasses':
      return assignPasses(trial, command.passesOfStrips, command.numbering);
    case 'cutPasses':
      return cutPassesAt(trial, command.cuts, command.becomes, command.numbering);
    case 'addStrip':
      return { ...trial, strips: [...trial.strips, command.strip] };
    case 'takeHarvestFile':
      return takeHarvestFile(trial, command.file);
    case 'changeHarvestFile':
      return { ...trial, harvestFiles: changeByPath(trial.harvestFiles, command.path, command.changes) };
    case 'removeHarvestFile':
      return { ...trial, harvestFiles: trial.harvestFiles.filter(({ path }) => path !== command.path) };
    case 'takeApplicationFile':
      return withApplications(trial, [...othersThan(trial, command.file.path), command.file]);
    case 'changeApplicationFile':
      return withApplications(trial, changeByPath(applicationsOf(trial), command.path, command.changes));
    case 'removeApplicationFile':
      return withApplications(trial, othersThan(trial, command.path));
    case 'takeAppliedPolygons':
      return { ...trial, strips: trial.strips.map((strip) => withAppliedPolygon(strip, command.strips)) };
    case 'changeHarvestSettings':
      return { ...trial, harvest: { ...trial.harvest, ...command.changes } };
    case 'addExclusion':
      return polygonCrossesItself(command.area.polygon)
        ? { problemCode: 'exclusionCrossesItself', details: { area: command.area.id } }
        : withExclusions(trial, [...exclusionsOf(trial), command.area]);
    case 'changeExclusion':
      return command.changes.polygon !== undefined && polygonCrossesItself(command.changes.polygon)
        ? { problemCode: 'exclusionCrossesItself', details: { area: command.id } }
        : withExclusions(trial, changeById(exclusionsOf(trial), command.id, command.changes));
    case 'removeExclusion':
      return withExclusions(
        trial,
        exclusionsOf(trial).filter(({ id }) => id !== command.id),
      );
    case 'changeInference':
      return { ...trial, inference: { ...trial.inference, ...command.changes } };
    case 'changeEconomics':
      return { ...trial, economics: { ...trial.economics, ...command.changes } };
    case 'stampSettings':
      return stampSettings(trial, command.at);
    case 'setField':
      return (
        setAtPath(trial, command.path, command.value) ?? {
          problemCode: 'noSuchField',
          details: { path: command.path },
        }
      );
  }
}

function removeTreatment(trial: TrialDocument, id: string): TrialDocument | Objection {
  const strips = trial.strips.filter((strip) => strip.treatment === id).length;
  if (strips > 0) return { problemCode: 'treatmentInUse', details: { treatment: id, strips } };
  return {
    ...trial,
    treatments: trial.treatments.filter((treatment) => treatment.id !== id),
    ...withoutLoggedTreatment(trial, id),
    inference: {
      ...trial.inference,
      namedPairs: trial.inference.namedPairs.filter((pair) => !pair.includes(id)),
      ...contrastsWithout(trial.inference, id),
    },
  };
}

function withoutLoggedTreatment(
  { applicationFiles }: TrialDocument,
  id: string,
): Pick<TrialDocument, 'applicationFiles'> {
  if (applicationFiles === undefined) return {};
  const without = (product: LoggedProduct) => ({
    ...product,
    treatments: product.treatments.filter((own) => own !== id),
  });
  return {
    applicationFiles: applicationFiles.map((file) => ({ ...file, products: file.products.map(without) })),
  };
}

function contrastsWithout({ contrasts }: Inference, id: string): Pick<Inference, 'contrasts'> {
  if (contrasts === undefined) return {};
  return { contrasts: contrasts.filter((own) => own.every(({ treatment }) => treatment !== id)) };
}

/**
 * Treatments that were entered before keep their ids, names, costs and the check: a treatment of the layout is the
 * same one when its id or its name is. Those that the layout lacks stay, to be named as lying on no strip.
 */
function takeLayout(trial: TrialDocument, layout: TakenLayout): TrialDocument {
  const knownAs = new Map<string, string>();
  const added: Treatment[] = [];
  for (const taken of layout.treatments) {
    const before = trial.treatments.find((known) => isSameTreatment(known, taken));
    if (before === undefined) added.push(taken);
    knownAs.set(taken.id, before?.id ?? taken.id);
  }
  const treatments = [...trial.treatments, ...added];
  const strips = new Set(layout.strips.map(({ id }) => id));
  const areas = exclusionsOf(trial).filter(({ strip }) => strip === null || strips.has(strip));
  return withLayoutStamped({
    ...withMove(withExclusions(trial, areas), moveKept(trial, layout)),
    ...(trial.passNumbering === undefined ? {} : { passNumbering: null }),
    layoutFile: layout.file,
    treatments: keepOneCheck(treatments),
    blocks: [...layout.blocks],
    strips: layout.strips.map((strip) => ({
      ...strip,
      treatment: knownAs.get(strip.treatment) ?? strip.treatment,
    })),
  });
}

/** Harvest opened before there was a layout: the first that comes is what later changes are compared with. */
function withLayoutStamped(trial: TrialDocument): TrialDocument {
  if (trial.stamp?.layout === undefined || trial.stamp.layout.strips.length > 0) return trial;
  return { ...trial, stamp: { ...trial.stamp, layout: stampedLayout(trial) } };
}

function isSameTreatment(known: Treatment, taken: Treatment): boolean {
  if (known.id === taken.id) return true;
  return known.name.trim().toLowerCase() === taken.name.trim().toLowerCase();
}

/** The check that was chosen first stands; a layout never moves it. */
function keepOneCheck(treatments: readonly Treatment[]): Treatment[] {
  const first = treatments.find(({ isCheck }) => isCheck)?.id;
  return treatments.map((treatment) => ({ ...treatment, isCheck: treatment.id === first }));
}

/** Numbers of an older track that are not given anew would speak of other passes: they go with it. */
function assignPasses(
  trial: TrialDocument,
  passesOfStrips: Readonly<Record<string, readonly number[]>>,
  numbering: PassNumbering,
): TrialDocument {
  const before = trial.passNumbering ?? null;
  const isOtherTrack = before !== null && !isSameNumbering(before, numbering);
  const strips = trial.strips.map((strip): Strip => {
    const given = passesOfStrips[strip.id];
    if (given !== undefined) return { ...strip, passes: [...given] };
    return isOtherTrack && strip.passes !== undefined ? { ...strip, passes: null } : strip;
  });
  return withPassesStamped({ ...trial, strips, passNumbering: numbering });
}

/** Strips keep the ground that they had: each has all pieces of the passes that were its own. */
function cutPassesAt(
  { passCuts: _, ...trial }: TrialDocument,
  cuts: readonly PassCut[],
  becomes: readonly (readonly number[])[],
  numbering: PassNumbering,
): TrialDocument {
  const lists = renumberedLists(
    trial.strips.map(({ passes }) => passes ?? []),
    becomes,
  );
  const strips = trial.strips.map(
    (strip, k): Strip => (strip.passes == null ? strip : { ...strip, passes: [...lists[k]!] }),
  );
  const stamped = trial.stamp?.passes;
  return {
    ...trial,
    strips,
    passNumbering: numbering,
    ...(cuts.length === 0 ? {} : { passCuts: [...cuts] }),
    stamp:
      trial.stamp === null || stamped === undefined
        ? trial.stamp
        : { ...trial.stamp, passes: renumberedStamp(stamped, becomes) },
  };
}

/** The first time that every strip has its passes is what later changes are compared with. */
function withPassesStamped(trial: TrialDocument): TrialDocument {
  const passes = stampedPasses(trial);
  if (trial.stamp === null || trial.stamp.passes !== undefined || passes === null) return trial;
  return { ...trial, stamp: { ...trial.stamp, passes } };
}

/** A move of the layout is about the polygons that it was set for; no other layout takes it over. */
function moveKept({ strips, layoutFile, layoutMove }: TrialDocument, { file }: TakenLayout) {
  const isSame = file !== null && file.path === layoutFile?.path;
  if (layoutMove === undefined || (strips.length > 0 && !isSame)) return undefined;
  const { pinned: _, ...move } = layoutMove;
  return move;
}

function withMove(trial: TrialDocument, move: LayoutMove | undefined): TrialDocument {
  const { layoutMove: _, ...rest } = trial;
  return move === undefined ? rest : { ...rest, layoutMove: move };
}

/** null, or a move that moves nothing: as planned. Where strips were removed under a move its middle stays. */
function moveLayout(trial: TrialDocument, move: LayoutMove | null): TrialDocument | Objection {
  const pinned = trial.layoutMove?.pinned;
  const renumbered = move?.renumbered ?? false;
  if (pinned !== undefined && renumbered !== trial.layoutMove?.renumbered)
    return { problemCode: 'renumberingSettled', details: {} };
  if (move === null || !movesAnything(move)) return withMove(trial, undefined);
  if (pinned !== undefined) return withMove(trial, { ...move, pinned });
  if (renumbered && renumberedStrips(trial.strips) === null)
    return { problemCode: 'renumberingImpossible', details: {} };
  return withMove(trial, move);
}

function movesAnything({ eastM, northM, turnDegrees, mirrored, renumbered }: LayoutMove): boolean {
  return eastM !== 0 || northM !== 0 || turnDegrees !== 0 || mirrored || renumbered;
}

/** An area cut from that strip alone goes with it. The others stay where they lie, though their middle moves. */
function removeStrip(whole: TrialDocument, removed: string): TrialDocument {
  const trial = pinnedTrial(whole);
  const strips = trial.strips.filter(({ id }) => id !== removed);
  const areas = exclusionsOf(trial);
  const kept = areas.filter(({ strip }) => strip !== removed);
  return kept.length === areas.length ? { ...trial, strips } : withExclusions({ ...trial, strips }, kept);
}

function pinnedTrial(trial: TrialDocument): TrialDocument {
  if (trial.layoutMove === undefined) return trial;
  const { strips, move } = pinnedLayout(trial.strips, trial.layoutMove);
  return { ...trial, strips: [...strips], layoutMove: move };
}

function exclusionsOf({ harvest }: TrialDocument): readonly ExclusionArea[] {
  return harvest.exclusions ?? [];
}

/** Without areas the document has no such field, as before the first was drawn. */
function withExclusions(trial: TrialDocument, areas: readonly ExclusionArea[]): TrialDocument {
  const { exclusions: _, ...harvest } = trial.harvest;
  return { ...trial, harvest: areas.length === 0 ? harvest : { ...harvest, exclusions: [...areas] } };
}

function takeHarvestFile(trial: TrialDocument, file: HarvestFile): TrialDocument {
  const others = trial.harvestFiles.filter(({ path }) => path !== file.path);
  return { ...trial, harvestFiles: [...others, file] };
}

/** Keeps the first stamp: what stood when harvest data first opened is never overwritten. */
function stampSettings(trial: TrialDocument, at: string): TrialDocument {
  if (trial.stamp !== null) return trial;
  const { inference, harvest, layoutMove } = trial;
  const files = stampedFiles(trial.harvestFiles);
  const application = stampedApplication(trial);
  const fileFacts = stampedFileFacts(trial.harvestFiles);
  const stamp = { at, inference, harvest, files, fileFacts, layout: stampedLayout(trial), application };
  return withPassesStamped({
    ...trial,
    stamp: layoutMove === undefined ? stamp : { ...stamp, layoutMove },
  });
}

function changeById<T extends { id: string }>(
  list: readonly T[],
  id: string,
  changes: Partial<Omit<T, 'id'>>,
): T[] {
  return list.map((entry) => (entry.id === id ? { ...entry, ...changes } : entry));
}

function applicationsOf({ applicationFiles }: TrialDocument): readonly ApplicationFile[] {
  return applicationFiles ?? [];
}

function othersThan(trial: TrialDocument, path: string): readonly ApplicationFile[] {
  return applicationsOf(trial).filter((file) => file.path !== path);
}

/** Without logs the document has no such field, as before the first was taken. */
function withApplications(trial: TrialDocument, files: readonly ApplicationFile[]): TrialDocument {
  const { applicationFiles: _, ...others } = trial;
  return files.length === 0 ? others : { ...others, applicationFiles: [...files] };
}

function withAppliedPolygon(strip: Strip, taken: readonly AppliedPolygon[]): Strip {
  const own = taken.find(({ id }) => id === strip.id);
  if (own === undefined) return strip;
  const { appliedPolygon: _, ...planned } = strip;
  return own.polygon === null ? planned : { ...planned, appliedPolygon: own.polygon };
}

function changeByPath<T extends { path: string }>(
  list: readonly T[],
  path: string,
  changes: Partial<Omit<T, 'path'>>,
): T[] {
  return list.map((entry) => (entry.path === path ? { ...entry, ...changes } : entry));
}
