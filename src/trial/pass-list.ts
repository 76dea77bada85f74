/** Numbers of harvest passes as people write them: "3-4, 7". */
export type PassListReading =
  | { readonly ok: true; readonly passes: readonly number[] }
  | { readonly ok: false; readonly fault: PassListFault; readonly part: string };

/**
 * 'notAPass': neither a whole number from 1 up nor two of them with a dash between. 'backwards': a range that ends
 * before it begins. 'beyond': a number above that of the last pass. 'twice': a pass that was named before.
 */
export type PassListFault = 'notAPass' | 'backwards' | 'beyond' | 'twice';

const PART = /^(\d{1,9})(?:\s*[-–]\s*(\d{1,9}))?$/;

/** Reads a list of passes, none of them above `last`. Blank text is a list without any. */
export function readPassList(text: string, last: number): PassListReading {
  const passes = new Set<number>();
  for (const part of text.split(/[,;]/).map((piece) => piece.trim())) {
    if (part === '') continue;
    const [, first, end = first] = PART.exec(part) ?? [];
    const [from, to] = [Number(first), Number(end)];
    if (first === undefined || from === 0) return { ok: false, fault: 'notAPass', part };
    if (to < from) return { ok: false, fault: 'backwards', part };
    if (to > last) return { ok: false, fault: 'beyond', part };
    for (let pass = from; pass <= to; pass++) {
      if (passes.has(pass)) return { ok: false, fault: 'twice', part };
      passes.add(pass);
    }
  }
  return { ok: true, passes: [...passes].sort((a, b) => a - b) };
}

/** The shortest such text: "3-4, 7". */
export function passListText(passes: readonly number[]): string {
  const sorted = [...passes].sort((a, b) => a - b);
  const ranges: [number, number][] = [];
  for (const pass of sorted) {
    const open = ranges.at(-1);
    if (open !== undefined && pass === open[1] + 1) open[1] = pass;
    else ranges.push([pass, pass]);
  }
  return ranges.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(', ');
}
