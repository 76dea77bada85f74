/** One step for each version that there was: from the version of its key to the next. */
const STEPS: Readonly<Record<number, (older: Readonly<Record<string, unknown>>) => Record<string, unknown>>> =
  {
    // Version 2 added designs (square, factors, covariate, contrasts) that version 1 would pass over; none stood before.
    1: (older) => ({ ...older, version: 2 }),
    // Version 3 added what the layout, the files and the application went through after they were drawn up.
    2: (older) => ({ ...older, version: 3 }),
  };

/** A document of an older version as one of this version; anything else as it stands. */
export function migrated(document: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  const { version } = document;
  const step = typeof version === 'number' ? STEPS[version] : undefined;
  return step === undefined ? document : migrated(step(document));
}
