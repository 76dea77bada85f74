/** Angles are kept in degrees, as files and people write them; sines and cosines want radians. */
export function inRadians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

export function inDegrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
