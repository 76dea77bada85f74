import { failure, type Outcome, type Problem, success } from '../trial/problem.ts';
import { intakeProblem } from './problem-codes.ts';

/** The little of the Encoding Standard's decoder that is needed; the pure rooms know neither DOM nor Node. */
interface Decoder {
  decode(bytes: Uint8Array): string;
}
type DecoderConstructor = new (label: string, options?: { fatal?: boolean }) => Decoder;
const { TextDecoder: WebDecoder } = globalThis as unknown as { TextDecoder: DecoderConstructor };

/** Enough to know an archive, an image or a database by its beginning without touching the rest. */
const HEAD_BYTES = 8192;
/** Engines hold no text beyond half a gigabyte; points are read from the bytes and know no such limit. */
const LARGEST_BYTES = 400e6;

const SIGNATURES: readonly { readonly looksLike: string; readonly bytes: readonly number[] }[] = [
  { looksLike: 'zip', bytes: [0x50, 0x4b, 0x03, 0x04] },
  { looksLike: 'zip', bytes: [0x50, 0x4b, 0x05, 0x06] },
  { looksLike: 'image', bytes: [0x89, 0x50, 0x4e, 0x47] },
  { looksLike: 'image', bytes: [0xff, 0xd8, 0xff] },
  { looksLike: 'image', bytes: [0x47, 0x49, 0x46, 0x38] },
  { looksLike: 'image', bytes: [0x49, 0x49, 0x2a, 0x00] },
  { looksLike: 'image', bytes: [0x4d, 0x4d, 0x00, 0x2a] },
  { looksLike: 'pdf', bytes: [0x25, 0x50, 0x44, 0x46, 0x2d] },
  { looksLike: 'compressed', bytes: [0x1f, 0x8b] },
  { looksLike: 'compressed', bytes: [0x37, 0x7a, 0xbc, 0xaf] },
  { looksLike: 'oldOffice', bytes: [0xd0, 0xcf, 0x11, 0xe0] },
  { looksLike: 'database', bytes: [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66] },
];

/**
 * Text of a file: UTF-8 with or without byte order mark, UTF-16 by its mark or by its zero bytes, else windows-1252;
 * the last two are said.
 * Anything that is not text is refused by its first kilobytes (`notText`), however large the file.
 */
export function decodeText(bytes: Uint8Array, file: string | null): Outcome<string> {
  const head = bytes.subarray(0, HEAD_BYTES);
  const marked = byteOrderMark(head);
  const unmarked = marked === null ? unmarkedUtf16(head) : null;
  const isWide = unmarked !== null || marked?.startsWith('utf-16');
  const looksLike = signatureOf(head) ?? (isWide ? null : binaryByContent(head, bytes));
  if (looksLike !== null) return failure(intakeProblem('notText', { file }, { looksLike }));
  if (bytes.length > LARGEST_BYTES) {
    const details = { megabytes: Math.round(bytes.length / 1e6), limit: LARGEST_BYTES / 1e6 };
    return failure(intakeProblem('fileTooLarge', { file }, details));
  }
  if (marked !== null) return decodeMarked(bytes, marked, file);
  if (unmarked !== null) return decodeUnmarked(bytes, unmarked, file);
  const text = decodeStrictly(bytes);
  if (text !== null) return success(text);
  return success(decodeWindows1252(bytes), [intakeProblem('readAsWindows1252', { file }, {})]);
}

function signatureOf(head: Uint8Array): string | null {
  const known = SIGNATURES.find(({ bytes }) => bytes.every((byte, index) => head[index] === byte));
  return known?.looksLike ?? null;
}

/** Text holds no NUL, and next to no other control characters. */
function binaryByContent(head: Uint8Array, bytes: Uint8Array): string | null {
  const controls = head.filter((byte) => byte < 32 && byte !== 9 && byte !== 10 && byte !== 13).length;
  if (head.includes(0) || controls > head.length / 100) return 'binary';
  return bytes.includes(0) ? 'binary' : null;
}

function byteOrderMark(head: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' | null {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return 'utf-8';
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le';
  if (head[0] === 0xfe && head[1] === 0xff) return 'utf-16be';
  return null;
}

/** Of plain English in UTF-16 every other byte is zero; no other text has zero bytes at all. */
const ZERO_SHARE = 0.3;

export function unmarkedUtf16(head: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const units = head.length >> 1;
  if (units < 4) return null;
  const zeros = [0, 0];
  for (let at = 0; at < 2 * units; at += 1) if (head[at] === 0) zeros[at % 2]! += 1;
  const [high = 0, low = 0] = zeros;
  if (high === 0 && low >= ZERO_SHARE * units) return 'utf-16le';
  return low === 0 && high >= ZERO_SHARE * units ? 'utf-16be' : null;
}

function decodeUnmarked(bytes: Uint8Array, encoding: string, file: string | null): Outcome<string> {
  const decoded = decodeMarked(bytes, encoding, file);
  if (!decoded.ok) return decoded;
  const head = Uint8Array.from(decoded.value.slice(0, HEAD_BYTES), (letter) =>
    letter < '\u00ff' ? letter.charCodeAt(0) : 255,
  );
  const looksLike = binaryByContent(head, head);
  if (looksLike !== null) return failure(intakeProblem('notText', { file }, { looksLike }));
  return success(decoded.value, [...decoded.problems, intakeProblem('readAsUtf16', { file }, { encoding })]);
}

function decodeMarked(bytes: Uint8Array, encoding: string, file: string | null): Outcome<string> {
  const text = new WebDecoder(encoding).decode(bytes);
  const replaced = text.split('\uFFFD').length - 1;
  if (encoding !== 'utf-8' && text.includes('\0')) {
    return failure(intakeProblem('notText', { file }, { looksLike: 'binary' }));
  }
  const remarks: Problem[] =
    replaced === 0 ? [] : [intakeProblem('damagedCharacters', { file }, { encoding, count: replaced })];
  return success(text, remarks);
}

const BEYOND_ASCII = 0x80;

/** One cell out of the middle of a file, by the rules of the whole: UTF-8 where its bytes fit, else windows-1252. */
export function decodeCell(bytes: Uint8Array): string {
  if (bytes.every((byte) => byte < BEYOND_ASCII)) return String.fromCharCode(...bytes);
  return decodeStrictly(bytes) ?? decodeWindows1252(bytes);
}

function decodeStrictly(bytes: Uint8Array): string | null {
  try {
    return new WebDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** What windows-1252 holds at 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252). */
const UPPER_CONTROLS = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ';

/** Node 20 decodes these 32 bytes as ISO 8859-1 does, browsers by the standard; this makes both agree. */
function decodeWindows1252(bytes: Uint8Array): string {
  const text = new WebDecoder('windows-1252').decode(bytes);
  return text.replace(
    /[\u0080-\u009F]/g,
    (control) => UPPER_CONTROLS[control.charCodeAt(0) - 0x80] ?? control,
  );
}
