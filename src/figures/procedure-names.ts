/** Procedures as the trade writes them. */
const NAMES: Readonly<Record<string, string>> = {
  t: 't',
  paired: 'paired t',
  lsd: 'LSD',
  protectedLsd: 'protected LSD',
  tukey: 'Tukey HSD',
  dunnett: 'Dunnett',
  bonferroni: 'Bonferroni',
  holm: 'Holm',
  contrast: 'contrast',
};

export function procedureName(id: string): string {
  return NAMES[id] ?? id;
}
