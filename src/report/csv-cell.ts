/** What a spreadsheet takes for the beginning of a formula, also behind blanks. */
const FORMULA = /^\s*[=+\-@\t\r＝＋－＠]/;

/** A cell after RFC 4180, with an apostrophe in front of what a spreadsheet would run; nothing is an empty cell. */
export function csvCell(cell: string | number | undefined): string {
  if (cell === undefined) return "";
  if (typeof cell === "number") return String(cell);
  const text = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
