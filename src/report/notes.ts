/** What many rows of a table have to say is said once above it, and named by number in each of them. */

/** Beside more rows than this a sentence is told once. */
const MOST_REPEATED = 2;

/** The sentences of each row as one cell, with numbers for those that stand above the table. */
export interface Noted {
  readonly cells: readonly string[];
  /** `Note 1: The start contact is watched; …`, in the order in which the rows refer to them. */
  readonly notes: readonly string[];
}

export function noted(rows: readonly (readonly string[])[]): Noted {
  const counts = new Map<string, number>();
  for (const sentence of rows.flatMap((row) => [...new Set(row)]))
    counts.set(sentence, (counts.get(sentence) ?? 0) + 1);
  const told = [...counts].filter(([, count]) => count > MOST_REPEATED).map(([sentence]) => sentence);
  const numbers = new Map(told.map((sentence, i) => [sentence, `Note ${i + 1}`]));
  const inRow = (sentence: string) => (numbers.has(sentence) ? `${numbers.get(sentence)}.` : sentence);
  return {
    cells: rows.map((row) => row.map(inRow).join(" ")),
    notes: told.map((sentence) => `${numbers.get(sentence)}: ${sentence}`),
  };
}
