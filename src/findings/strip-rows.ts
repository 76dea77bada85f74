import type { ResponseOfStrips, StripValue } from '../harvest/strip-values.ts';
import type { Strip, TrialDocument } from '../trial/trial-document.ts';
import { notUsedBecause } from '../words/strip-sentences.ts';
import type { ReportStrip } from './report-model.ts';
import { distinctNames } from './treatment-names.ts';

interface ShownUnit {
  readonly own: ResponseOfStrips;
  readonly unit: string | null;
  readonly perSi: number;
}

/** One row a strip of the trial, in the document's order. */
export function reportStrips(
  trial: TrialDocument,
  valueByStrip: ReadonlyMap<string, StripValue>,
  responses: readonly ShownUnit[],
  blocked: boolean,
): ReportStrip[] {
  const treatments = distinctNames(trial.treatments);
  const blocks = distinctNames(trial.blocks);
  return trial.strips.map((strip) => {
    const value = valueByStrip.get(strip.id);
    const values = responses.map(({ own, unit, perSi }) => {
      const si = value?.values[own.name] ?? null;
      return { response: own.name, value: si === null ? null : si * perSi, unit };
    });
    const hasValue = values.some((own) => own.value !== null);
    const whyNotUsed = reasonNotUsed(strip, value, hasValue, blocked);
    return {
      strip: strip.id,
      block: strip.block === null ? null : (blocks.get(strip.block) ?? strip.block),
      treatment: treatments.get(strip.treatment) ?? strip.treatment,
      place: strip.place,
      areaM2: value?.areaM2 ?? null,
      harvestedAreaM2: value?.harvestedAreaM2 ?? null,
      values,
      pointsRead: value?.pointsRead ?? null,
      pointsKept: value?.pointsKept ?? null,
      pointsSetAside: Object.fromEntries(Object.entries(value?.pointsSetAside ?? {})),
      subSamples: value?.subSamples ?? null,
      cvWithinPercent: value?.cvWithinPercent ?? null,
      used: whyNotUsed === null,
      whyNotUsed,
    };
  });
}

function reasonNotUsed(
  strip: Strip,
  value: StripValue | undefined,
  hasValue: boolean,
  blocked: boolean,
): string | null {
  if (blocked && strip.block === null) return notUsedBecause('noBlock', null);
  if (hasValue) return null;
  if (value?.pointsKept !== 0) return notUsedBecause('noValue', null);
  return notUsedBecause('noPointKept', mostOften(value));
}

function mostOften(value: StripValue): string | null {
  const byCount = Object.entries(value.pointsSetAside).sort(([, a], [, b]) => b - a);
  return byCount[0]?.[0] ?? null;
}
