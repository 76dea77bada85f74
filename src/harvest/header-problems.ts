import { acrossM, alongM, distanceToSideM } from '../geometry/oriented-strip.ts';
import { type Problem, problem } from '../trial/problem.ts';
import type { StripGround } from './strip-ground.ts';
import type { ScreenedFile } from './strip-sums.ts';

/** A header may reach over a strip's side by this share of its width: a machine never drives on the line. */
const REACH_SHARE = 0.1;
/** Strips where more than this share of the kept points reach over are named. */
const STRIP_SHARE = 0.1;

/**
 * Do headers take ground beside the strip? Names strips narrower than the header, and strips in which kept points
 * stand so near the side that their header reaches into the neighbour: such points carry two treatments.
 */
export function headerProblems(
  screened: readonly ScreenedFile[],
  grounds: readonly (StripGround | null)[],
): Problem[] {
  const headerM = Math.max(...screened.map(({ file }) => file.headerM ?? 0));
  if (headerM === 0) return [];
  return [...narrowStrips(grounds, headerM), ...overreached(screened, grounds, headerM)];
}

function narrowStrips(grounds: readonly (StripGround | null)[], headerM: number): Problem[] {
  // Digitised corners are good to some centimetres: a header as wide as the strip is not wider.
  const narrow = grounds.filter((ground) => ground !== null && ground.oriented.widthM < 0.98 * headerM);
  const strips = narrow.flatMap((ground) => ground?.id ?? []);
  if (strips.length === 0) return [];
  const narrowestM = Math.min(...narrow.map((ground) => ground?.oriented.widthM ?? headerM));
  const details = { strips, count: strips.length, headerM, narrowestM };
  return [problem('warning', 'stripNarrowerThanHeader', {}, details)];
}

function overreached(
  screened: readonly ScreenedFile[],
  grounds: readonly (StripGround | null)[],
  headerM: number,
): Problem[] {
  const kept = new Int32Array(grounds.length);
  const over = new Int32Array(grounds.length);
  for (const { file, reason } of screened) {
    // Where footprints are known, passes were judged by them, and those that straddle were said.
    if (file.headerM === null || file.ground.drivenM !== null) continue;
    const roomM = (0.5 - REACH_SHARE) * file.headerM;
    for (let i = 0; i < reason.length; i++) {
      if (reason[i] !== 0) continue;
      const index = file.strip[i]!;
      const { oriented } = grounds[index]!;
      const along = alongM(oriented, file.eastM[i]!, file.northM[i]!);
      kept[index]! += 1;
      if (distanceToSideM(oriented, along, acrossM(oriented, file.eastM[i]!, file.northM[i]!)) < roomM) {
        over[index]! += 1;
      }
    }
  }
  const named = grounds.flatMap((ground, i) =>
    ground !== null && over[i]! > STRIP_SHARE * kept[i]! ? [{ id: ground.id, i }] : [],
  );
  if (named.length === 0) return [];
  const overIn = named.reduce((sum, { i }) => sum + over[i]!, 0);
  const keptIn = named.reduce((sum, { i }) => sum + kept[i]!, 0);
  const details = {
    strips: named.map(({ id }) => id),
    count: named.length,
    headerM,
    sharePercent: (100 * overIn) / keptIn,
  };
  return [problem('warning', 'headerReachesOver', {}, details)];
}
