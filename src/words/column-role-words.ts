/** What each role of a column is called in sentences. */
const ROLE_WORDS: Readonly<Record<string, string>> = {
  massFlow: 'mass flow',
  headerState: 'header state',
  heading: 'heading of the machine',
  appliedRate: 'applied rate',
  appliedFlow: 'flow put out',
  sprayState: 'on/off state',
  day: 'date',
  place: 'place across the field',
};

export function columnRoleWords(role: string): string {
  return ROLE_WORDS[role] ?? role;
}

const CONTENT_WORDS: Readonly<Record<string, string>> = {
  zip: 'a packed archive or a spreadsheet workbook',
  image: 'a picture',
  pdf: 'a PDF document',
  compressed: 'a compressed file',
  oldOffice: 'an old spreadsheet or word-processor file',
  database: 'a database',
  binary: 'binary data',
};

export function contentWords(kind: string): string {
  return CONTENT_WORDS[kind] ?? kind;
}
