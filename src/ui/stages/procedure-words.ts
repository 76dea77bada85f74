const PROCEDURE_WORDS: Readonly<Record<string, string>> = {
  lsd: 'LSD, unprotected',
  protectedLsd: 'LSD after a significant F',
  tukey: 'Tukey',
  dunnett: 'Dunnett',
  bonferroni: 'Bonferroni',
  holm: 'Holm',
  paired: 'paired t',
  contrast: 'contrast',
  t: 't test',
};

export function procedureWords(procedure: string): string {
  return PROCEDURE_WORDS[procedure] ?? procedure;
}
