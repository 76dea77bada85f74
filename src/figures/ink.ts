/** Ink on paper: the few tones that all figures share. `faint` never carries words. */
export const INK = {
  black: '#1c1b19',
  grey: '#55524c',
  line: '#8d8a82',
  faint: '#d9d6cd',
  wash: '#f3f1ea',
  paper: '#ffffff',
} as const;
