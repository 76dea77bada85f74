const WAYS = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
] as const;

/** The nearest of eight ways, by degrees clockwise from north. */
export function compassWords(degrees: number): string {
  const eighth = Math.round(degrees / 45) % WAYS.length;
  return WAYS[(eighth + WAYS.length) % WAYS.length]!;
}
