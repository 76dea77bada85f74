import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeText } from '../../src/intake/decode-text.ts';
import { readDelimited } from '../../src/intake/delimited-table.ts';
import { asBytes, codesOf, problemOf, taken, utf16 } from './as-bytes.ts';

describe('decodeText', () => {
  const text = 'Größe;1,5\n';
  test('reads UTF-8 with and without mark and UTF-16 by its mark alike (law)', () => {
    const marked = new Uint8Array([0xef, 0xbb, 0xbf, ...asBytes(text)]);
    for (const bytes of [asBytes(text), marked, utf16(text, 'le'), utf16(text, 'be')]) {
      expect(decodeText(bytes, 'a.csv')).toEqual({ ok: true, value: text, problems: [] });
    }
  });

  test('reads other bytes as windows-1252 and says so', () => {
    // 0xF6 is ö in ISO 8859-1; 0x80 is € in windows-1252 alone (WHATWG Encoding, index windows-1252).
    const outcome = decodeText(new Uint8Array([0xf6, 0x80]), 'a.csv');
    expect(taken(outcome)).toBe('ö€');
    expect(codesOf(outcome)).toEqual(['readAsWindows1252']);
  });

  // First bytes as the formats' specifications give them: PKWARE APPNOTE 4.3.7, ISO 15948 (PNG), JPEG SOI, GIF89a,
  // ISO 32000 (PDF), RFC 1952 (gzip).
  test.each([
    ['zip', [0x50, 0x4b, 0x03, 0x04]],
    ['image', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a]],
    ['image', [0xff, 0xd8, 0xff, 0xe0]],
    ['image', [0x47, 0x49, 0x46, 0x38, 0x39, 0x61]],
    ['pdf', [0x25, 0x50, 0x44, 0x46, 0x2d, 0x31]],
    ['compressed', [0x1f, 0x8b, 0x08]],
    ['binary', [0x41, 0x00, 0x42]],
    ['binary', [0x01, 0x02, 0x03, 0x04]],
  ])('refuses a %s file by its first bytes', (looksLike, bytes) => {
    expect(problemOf(decodeText(new Uint8Array(bytes), 'x'), 'notText').details.looksLike).toBe(looksLike);
  });

  test('refuses a NUL far behind the head', () => {
    const bytes = asBytes(`${'a,b\n1,2\n'.repeat(5000)}\0`);
    expect(codesOf(decodeText(bytes, 'x'))).toEqual(['notText']);
  });

  test('counts characters that do not fit the announced encoding', () => {
    const outcome = decodeText(new Uint8Array([0xef, 0xbb, 0xbf, 0x61, 0xff]), 'x');
    expect(problemOf(outcome, 'damagedCharacters').details.count).toBe(1);
  });

  test('refuses more bytes than a text can hold', () => {
    const bytes = new Uint8Array(401e6).fill(0x61);
    expect(problemOf(decodeText(bytes, 'x'), 'fileTooLarge').details).toEqual({ megabytes: 401, limit: 400 });
  });
});

const read = (text: string) => readDelimited(asBytes(text), 'a.csv');

describe('readDelimited', () => {
  // RFC 4180, section 2, rules 1 to 7, with the examples there (from memory).
  test.each([
    [
      'rule 1, lines end with CRLF',
      'a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 2, the last line may lack its end',
      'a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    ['rule 4, spaces belong to the cell', 'a,b,c\r\naaa, bbb ,ccc\r\n', [['aaa', ' bbb ', 'ccc']]],
    ['rule 5, cells may be quoted', 'a,b,c\r\n"aaa","bbb","ccc"\r\n', [['aaa', 'bbb', 'ccc']]],
    [
      'rule 6, quotes guard line ends and commas',
      'a,b,c\r\n"aaa","b\nbb","c,cc"\r\n',
      [['aaa', 'b\nbb', 'c,cc']],
    ],
    ['rule 7, a quote in a cell is doubled', 'a,b,c\r\n"aaa","b""bb","ccc"\r\n', [['aaa', 'b"bb', 'ccc']]],
  ])('RFC 4180, %s', (_, text, rows) => {
    expect(taken(read(text)).rows).toEqual(rows);
  });

  test('separator, byte order mark and line ends change nothing (law)', () => {
    const cell = fc.stringMatching(/^[a-z0-9äé]{1,6}$/);
    const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(table, (lines) => {
        const body = [['h1', 'h2', 'h3'], ...lines];
        const write = (separator: string, end: string, mark: string) =>
          taken(read(mark + body.map((cells) => cells.join(separator)).join(end) + end));
        const { rows, headings, rowNumbers } = write(',', '\n', '');
        for (const separator of [',', ';', '\t']) {
          for (const end of ['\n', '\r\n', '\r']) {
            for (const mark of ['', '\uFEFF']) {
              expect(write(separator, end, mark)).toMatchObject({ rows, headings, rowNumbers });
            }
          }
        }
      }),
      { numRuns: 40, seed: 11 },
    );
  });

  test('the separator is told by several lines, not by the first alone', () => {
    expect(taken(read('Yield, dry;Moisture\n5,1;14,2\n5,2;14,3\n')).separator).toBe(';');
    expect(taken(read('a;b,c,d\n1,2,3\n4,5,6\n')).separator).toBe(',');
    expect(taken(read('a,b\tc\n1,5\t2,5\n')).separator).toBe('\t');
    expect(taken(read('sep=;\na;b\n1;2\n')).rowNumbers).toEqual([3]);
  });

  test('the decimal comma is told from the cells', () => {
    expect(taken(read('a;b\n1,25;3\n')).decimals).toEqual({ mark: ',', proven: true });
    expect(taken(read('a,b\n"1,25",3\n')).decimals).toEqual({ mark: ',', proven: true });
    expect(taken(read('a;b\n1.25;3\n')).decimals).toEqual({ mark: '.', proven: true });
  });

  test('rows are counted as lines of the file: blank lines and line ends within quotes count', () => {
    expect(taken(read('\na,b\n\n1,2\n"x\ny",3\n4,5\n')).rowNumbers).toEqual([4, 5, 7]);
  });

  test.each([
    ['', 'emptyFile'],
    [' \r\n\n', 'emptyFile'],
    ['a,b\n', 'headerOnly'],
    ['1,2\n3,4\n', 'noHeadings'],
    ['just a line\nof prose\n', 'notATable'],
    ['<xml>\n<a>1,2</a>\n</xml>\n', 'notATable'],
    ['a,b\n1,"2\n3,4\n5,6\n', 'unclosedQuote'],
  ])('refuses %j: %s', (text, code) => {
    const outcome = read(text);
    expect(outcome.ok).toBe(false);
    expect(codesOf(outcome)).toEqual([code]);
  });

  test('a large file of another kind is refused by its beginning', () => {
    expect(codesOf(read('a line of a log without any table in it\n'.repeat(40_000)))).toEqual(['notATable']);
  });

  test('a table larger than memory bears is refused before it is parsed', () => {
    const bytes = new Uint8Array(121e6).fill(0x20);
    bytes.set(asBytes('a,b\n1,2\n'));
    expect(problemOf(readDelimited(bytes, 'a.csv'), 'fileTooLarge').details.limit).toBe(120);
  });

  test('ragged rows are named with their row', () => {
    const outcome = read('a,b,c\n1,2,3\n1,2\n1\n1,2,3,4\n1,2,3,,\n');
    expect(problemOf(outcome, 'raggedRow')).toMatchObject({
      row: 3,
      details: { cells: 2, expected: 3, count: 2 },
    });
    expect(problemOf(outcome, 'rowTooLong')).toMatchObject({
      row: 5,
      details: { cells: 4, expected: 3, count: 1 },
    });
  });

  test('a last line that breaks off is left out and named', () => {
    const outcome = read('a,b,c\n1,2,3\n4,5,6\n7,8');
    expect(taken(outcome).rows).toHaveLength(2);
    expect(problemOf(outcome, 'lastLineCutOff').row).toBe(4);
    expect(codesOf(read('a,b\n1,2\n3,"4'))).toEqual(['lastLineCutOff']);
  });

  test('a heading that stands twice is named and goes on under another name', () => {
    const outcome = read('Yield,Yield,Yield (2)\n1,2,3\n');
    expect(taken(outcome).headings).toEqual(['Yield', 'Yield (3)', 'Yield (2)']);
    expect(problemOf(outcome, 'headingTwice')).toMatchObject({
      column: 'Yield',
      details: { readAs: 'Yield (3)' },
    });
  });
});
