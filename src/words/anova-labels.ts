/** Names of the lines of an analysis of variance, where the user's own heading does not stand there. */
const LABELS: Readonly<Record<string, string>> = {
  treatment: 'Treatment',
  block: 'Block',
  row: 'Row',
  column: 'Column',
  factorA: 'Factor A',
  factorB: 'Factor B',
  'factorA:factorB': 'Factor A x factor B',
  machine: 'Machine',
  covariate: 'Covariate',
  trend: 'Trend across the field',
  mainError: 'Error of main plots',
  error: 'Error',
  total: 'Total',
};

export function anovaLabel(source: string, ownHeading: string | null = null): string {
  return ownHeading ?? LABELS[source] ?? source;
}
