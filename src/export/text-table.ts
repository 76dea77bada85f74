/** A column of a table in plain text; numbers stand right, names left. */
export interface TextColumn {
  readonly heading: string;
  readonly align: 'left' | 'right';
  readonly cells: readonly string[];
}

/** Lines of a table: headings, a rule, and a line a row; columns two blanks apart, no blanks at line ends. */
export function textTable(columns: readonly TextColumn[]): readonly string[] {
  const shown = columns.map((column) => padded(column));
  const rows = columns[0]?.cells.length ?? 0;
  const line = (index: number) =>
    shown
      .map((cells) => cells[index] ?? '')
      .join('  ')
      .trimEnd();
  const lines = Array.from({ length: rows + 1 }, (_, index) => line(index));
  const rule = shown.map((cells) => '-'.repeat(cells[0]?.length ?? 0)).join('  ');
  return [lines[0] ?? '', rule, ...lines.slice(1)];
}

function padded({ heading, align, cells }: TextColumn): readonly string[] {
  const all = [heading, ...cells];
  const width = all.reduce((widest, cell) => Math.max(widest, cell.length), 0);
  return all.map((cell) => (align === 'left' ? cell.padEnd(width) : cell.padStart(width)));
}

/** Breaks prose at blanks so that no line is wider than `width`; later lines hang under the first by `indent`. */
export function wrapped(text: string, width: number, indent: string): readonly string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of text.split(' ')) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (current !== '' && longer.length > width) {
      lines.push(current);
      current = `${indent}${word}`;
    } else current = longer;
  }
  return [...lines, current];
}
