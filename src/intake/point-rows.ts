import { readingOf } from './decimal-number.ts';
import type { DelimitedTable } from './delimited-table.ts';
import { columnCells } from './delimited-table.ts';
import { type NumberColumn, numberColumn, ROWS_FOR_READING } from './number-column.ts';

/** The rows of a yield-monitor file, whether they come from a parsed table or straight from the bytes. */
export interface PointRows {
  readonly file: string;
  readonly headings: readonly string[];
  readonly count: number;
  /** Row in the file of each point. */
  readonly rowNumbers: Int32Array;
  readonly numbers: (columnIndex: number) => NumberColumn;
  readonly texts: (columnIndex: number) => readonly string[];
}

/** Which columns are needed as numbers and which as text. */
export interface ColumnsWanted {
  readonly numbers: readonly number[];
  readonly texts: readonly number[];
}

/** A row with more cells than headings is all blank: which value stands under which heading cannot be told. */
export function pointRowsOfTable(table: DelimitedTable): PointRows {
  const tooLong = new Set(table.tooLong);
  const cells = (columnIndex: number) =>
    columnCells(table, columnIndex).map((cell, index) => (tooLong.has(index) ? '' : cell));
  return {
    file: table.file ?? '',
    headings: table.headings,
    count: table.rows.length,
    rowNumbers: Int32Array.from(table.rowNumbers),
    numbers: (columnIndex) => {
      const column = cells(columnIndex);
      return numberColumn(column, readingOf(column.slice(0, ROWS_FOR_READING), table.decimals));
    },
    texts: cells,
  };
}
