import { sumsToZero } from './contrast-weights.ts';
import type { TrialDocument } from './trial-document.ts';

/** What a schema cannot see: ids used twice, and strips that point at a treatment or block that is not there. */
export interface ReferenceFault {
  readonly path: string;
  readonly reason: string;
}

export function referenceFaults(trial: TrialDocument): readonly ReferenceFault[] {
  return [
    ...repeatedIds('treatments', trial.treatments),
    ...repeatedIds('blocks', trial.blocks),
    ...repeatedIds('strips', trial.strips),
    ...danglingStrips(trial),
    ...danglingPairs(trial),
    ...contrastFaults(trial),
    ...checkFaults(trial),
    ...exclusionFaults(trial),
    ...loggedProductFaults(trial),
  ];
}

function repeatedIds(list: string, entries: readonly { id: string }[]): ReferenceFault[] {
  const seen = new Set<string>();
  return entries.flatMap(({ id }, index) => {
    if (seen.has(id)) return [{ path: `${list}.${index}.id`, reason: `the id ${quoted(id)} is used twice` }];
    seen.add(id);
    return [];
  });
}

function danglingStrips(trial: TrialDocument): ReferenceFault[] {
  const treatments = new Set(trial.treatments.map(({ id }) => id));
  const blocks = new Set(trial.blocks.map(({ id }) => id));
  return trial.strips.flatMap((strip, index) => {
    if (!treatments.has(strip.treatment)) {
      return [
        { path: `strips.${index}.treatment`, reason: `no treatment has the id ${quoted(strip.treatment)}` },
      ];
    }
    if (strip.block !== null && !blocks.has(strip.block)) {
      return [{ path: `strips.${index}.block`, reason: `no block has the id ${quoted(strip.block)}` }];
    }
    return [];
  });
}

function danglingPairs(trial: TrialDocument): ReferenceFault[] {
  const treatments = new Set(trial.treatments.map(({ id }) => id));
  return trial.inference.namedPairs.flatMap(([a, b], index) => {
    const unknown = [a, b].find((id) => !treatments.has(id));
    const path = `inference.namedPairs.${index}`;
    if (unknown !== undefined) return [{ path, reason: `no treatment has the id ${quoted(unknown)}` }];
    return a === b ? [{ path, reason: `${quoted(a)} is compared with itself` }] : [];
  });
}

function contrastFaults(trial: TrialDocument): ReferenceFault[] {
  const treatments = new Set(trial.treatments.map(({ id }) => id));
  return (trial.inference.contrasts ?? []).flatMap((weights, index) => {
    const path = `inference.contrasts.${index}`;
    const unknown = weights.find(({ treatment }) => !treatments.has(treatment));
    if (unknown !== undefined)
      return [{ path, reason: `no treatment has the id ${quoted(unknown.treatment)}` }];
    const sum = weights.reduce((total, { weight }) => total + weight, 0);
    return sumsToZero(weights.map(({ weight }) => weight))
      ? []
      : [{ path, reason: `the weights add up to ${sum}, and must to 0` }];
  });
}

function loggedProductFaults(trial: TrialDocument): ReferenceFault[] {
  const treatments = new Set(trial.treatments.map(({ id }) => id));
  return (trial.applicationFiles ?? []).flatMap((file, index) => {
    const named = file.products.flatMap((product) => product.treatments);
    const unknown = named.find((id) => !treatments.has(id));
    if (unknown === undefined) return [];
    return [
      { path: `applicationFiles.${index}.products`, reason: `no treatment has the id ${quoted(unknown)}` },
    ];
  });
}

function checkFaults(trial: TrialDocument): ReferenceFault[] {
  const checks = trial.treatments.filter(({ isCheck }) => isCheck);
  if (checks.length < 2) return [];
  return [
    { path: 'treatments', reason: `${checks.length} treatments are marked as the check; only one can be` },
  ];
}

function exclusionFaults({ harvest, strips }: TrialDocument): ReferenceFault[] {
  const known = new Set(strips.map(({ id }) => id));
  const areas = harvest.exclusions ?? [];
  return [
    ...repeatedIds('harvest.exclusions', areas),
    ...areas.flatMap(({ strip, note }, index) => {
      if (strip === null) return [];
      const path = `harvest.exclusions.${index}`;
      // Without strips the layout file is still to be read, and what it holds is not known here.
      if (strips.length > 0 && !known.has(strip))
        return [{ path: `${path}.strip`, reason: `no strip has the id ${quoted(strip)}` }];
      const isBare = note.trim() === '';
      return isBare ? [{ path: `${path}.note`, reason: 'an area cut from one strip alone says why' }] : [];
    }),
  ];
}

function quoted(text: string): string {
  return `"${text}"`;
}
