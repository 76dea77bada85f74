const DRY = ['dry', 'dried', 'trocken', 'seco'];
const WET = ['wet', 'feucht', 'nass', 'humedo'];

/** What the words of a heading (lower case, accents off) say of the moisture of a yield; null: nothing. */
export function saysWetOrDry(words: readonly string[]): 'wet' | 'dry' | null {
  if (words.some((word) => DRY.includes(word))) return 'dry';
  return words.some((word) => WET.includes(word)) ? 'wet' : null;
}
