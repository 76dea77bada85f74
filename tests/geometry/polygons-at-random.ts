import type { LocalPosition } from '../../src/geometry/local-projection.ts';
import type { SeededRandom } from '../simulator/seeded-random.ts';

/** A star-shaped polygon about a centre: any number of corners, not convex as a rule. */
export function starPolygon(random: SeededRandom, corners: number, centre: LocalPosition): LocalPosition[] {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * (i + random.uniform() * 0.9)) / corners;
    const radius = random.between(20, 120);
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
}

export function turned(
  corners: readonly LocalPosition[],
  degrees: number,
  about: LocalPosition = [0, 0],
): LocalPosition[] {
  const angle = (degrees * Math.PI) / 180;
  return corners.map(([x, y]) => {
    const [dx, dy] = [x - about[0], y - about[1]];
    return [
      about[0] + dx * Math.cos(angle) - dy * Math.sin(angle),
      about[1] + dx * Math.sin(angle) + dy * Math.cos(angle),
    ];
  });
}

export function rectangle(west: number, south: number, width: number, length: number): LocalPosition[] {
  return [
    [west, south],
    [west + width, south],
    [west + width, south + length],
    [west, south + length],
  ];
}
