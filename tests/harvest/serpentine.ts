/** What was logged at one point of a track that harvests up and down. */
export interface TrackPoint {
  readonly eastM: number;
  readonly northM: number;
  readonly timeS: number;
  readonly headerDown: 0 | 1;
  /** Index into the passes driven; -1 on turns. */
  readonly driven: number;
}

export interface Drive {
  readonly lengthM: number;
  /** Driven with the header up before and behind each pass. */
  readonly headlandM: number;
  readonly stepM: number;
}

/**
 * Up and down over straight passes at these places across, in the order given, with half circles between; a point
 * each second. The header is down where a pass's point lies in (0, length], so that what it stands for lies in the field.
 */
export function serpentineTrack(easts: readonly number[], drive: Drive): readonly TrackPoint[] {
  const { lengthM, headlandM, stepM } = drive;
  const points: TrackPoint[] = [];
  const add = (eastM: number, northM: number, headerDown: 0 | 1, driven: number) =>
    points.push({ eastM, northM, timeS: points.length, headerDown, driven });
  easts.forEach((eastM, pass) => {
    const isNorthward = pass % 2 === 0;
    for (let in_ = -headlandM; in_ <= lengthM + headlandM; in_ += stepM) {
      add(eastM, isNorthward ? in_ : lengthM - in_, in_ > 0 && in_ <= lengthM ? 1 : 0, pass);
    }
    const next = easts[pass + 1];
    if (next === undefined) return;
    const radius = (next - eastM) / 2;
    for (let angle = 0.2; angle < Math.PI; angle += stepM / Math.abs(radius)) {
      const beyond = Math.abs(radius) * Math.sin(angle);
      const northM = isNorthward ? lengthM + headlandM + beyond : -headlandM - beyond;
      add(eastM + radius * (1 - Math.cos(angle)), northM, 0, -1);
    }
  });
  return points;
}
