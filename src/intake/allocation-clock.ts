/// <reference path="./file-readers.d.ts" />
import type { ISOXMLManager, LoggedRecord } from 'isoxml';

/** How the times of a task's allocations are written: all without a zone (by the clock of the log), all with one, or both. */
export type StampForm = 'plain' | 'zoned' | 'mixed';

export async function stampForm(manager: ISOXMLManager): Promise<StampForm> {
  const text = (await manager.getParsedFile('TASKDATA.XML', false)) ?? '';
  const times = [...text.matchAll(/<ASP\b[^>]*>/g)].flatMap(([stamp]) =>
    [...stamp.matchAll(/\s[AB]\s*=\s*["']([^"']+)["']/g)].map(([, time = '']) => time.trim()),
  );
  const zoned = times.filter((time) => /(?:Z|[+-]\d\d:?\d\d)$/.test(time));
  return zoned.length === 0 ? 'plain' : zoned.length === times.length ? 'zoned' : 'mixed';
}

/** From a time as the reader hands it over to the clock of a log, in ms. */
export type ToLogClock = (time: Date) => number;

const DAY_MS = 86_400_000;
const FROM_1980_MS = Date.UTC(1980, 0, 1);
/** Zones differ from UTC by whole quarters of an hour. */
const QUARTER_MS = 15 * 60_000;
/** A log's clock that is off by more than this is off by an amount that nobody knows. */
const MOST_OFF_MS = 5 * 60_000;

/**
 * Times of allocations by the clock of a log. Without a zone they are of that clock. With one they are instants, and the
 * log's clock is held against the receiver's UTC in its own records. null: the log does not hold that.
 */
export function toLogClock(form: StampForm, records: readonly LoggedRecord[]): ToLogClock | null {
  if (form === 'plain') return plainClockMs;
  if (form === 'mixed') return null;
  for (const { time, position } of records) {
    const { GpsUtcTime: ofDayMs, GpsUtcDate: days } = position ?? {};
    if (!ofDayMs || !days) continue;
    const aheadMs = time.getTime() - (FROM_1980_MS + days * DAY_MS + ofDayMs);
    const zoneMs = QUARTER_MS * Math.round(aheadMs / QUARTER_MS);
    const isZone = Math.abs(zoneMs) <= 14 * 4 * QUARTER_MS && Math.abs(aheadMs - zoneMs) <= MOST_OFF_MS;
    return isZone ? (stamp) => stamp.getTime() + zoneMs : null;
  }
  return null;
}

/** A time without a zone was taken for one of this machine's zone; the clock it was written by is that of the log. */
function plainClockMs(time: Date): number {
  return Date.UTC(
    time.getFullYear(),
    time.getMonth(),
    time.getDate(),
    time.getHours(),
    time.getMinutes(),
    time.getSeconds(),
    time.getMilliseconds(),
  );
}
