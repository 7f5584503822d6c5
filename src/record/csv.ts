/** Separated values after RFC 4180, as far as a person's spreadsheet writes them. */

/** One row with the line on which it begins, counted from 1. */
export interface CsvRow {
  readonly line: number;
  readonly cells: readonly string[];
  /** A quote was opened in this row and never closed, so that it swallowed the rest of the text. */
  readonly unclosed?: true;
}

/**
 * What separates the cells of the first line with any text, outside quotes: a semicolon, as spreadsheets write them where the comma
 * is the decimal mark; tabs where there is no comma either.
 */
export function separatorOf(text: string): ";" | "," | "\t" {
  // A byte-order mark is trimmed too.
  const [header = ""] = /^(?:[^"\r\n]|"[^"]*")*/.exec(text.trimStart()) ?? [];
  const bare = header.replace(/"[^"]*"/g, "");
  if (bare.includes(";")) return ";";
  return bare.includes("\t") && !bare.includes(",") ? "\t" : ",";
}

/**
 * Splits text into rows of cells. Quoted cells may hold separators, doubled quotes and line ends. Rows without any text are
 * left out.
 */
export function parseCsv(text: string): CsvRow[] {
  const input = text.replace(/^\uFEFF/, "");
  const separator = separatorOf(input);
  const rows: CsvRow[] = [];
  let [cells, cell, quoted, line, start]: [string[], string, boolean, number, number] = [[], "", false, 1, 1];
  const endRow = () => {
    cells.push(cell);
    if (cells.some((text) => text.trim() !== "")) rows.push({ line: start, cells, ...(quoted && { unclosed: true }) });
    [cells, cell] = [[], ""];
  };
  for (let i = 0; i < input.length; i++) {
    const character = input[i] as string;
    const isLineEnd = character === "\n" || (character === "\r" && input[i + 1] !== "\n");
    if (isLineEnd) line++;
    if (quoted) {
      if (character !== '"') cell += character;
      else if (input[i + 1] === '"') cell += input[i++];
      else quoted = false;
    } else if (character === '"' && cell.trim() === "") {
      [quoted, cell] = [true, ""];
    } else if (character === separator) {
      cells.push(cell);
      cell = "";
    } else if (isLineEnd) {
      endRow();
      start = line;
    } else if (character !== "\r") cell += character;
  }
  endRow();
  return rows;
}
