/** "50" says nothing within a sentence: a name that is a bare number carries its heading, "rate 50". */
export function treatmentInSentence(name: string, heading: string | null): string {
  return /^[-+]?[\d.,]+$/.test(name.trim()) ? `${heading ?? 'treatment'} ${name}` : name;
}
