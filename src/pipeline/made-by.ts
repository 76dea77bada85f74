import manifest from '../../package.json' with { type: 'json' };

/** What a report says it was made by. */
export const MADE_BY = `stripverdict ${manifest.version}`;
export const VERSION: string = manifest.version;
