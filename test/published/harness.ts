/** Runs tables of published and reference values against the library. */
import { againstExact, againstPrinted, type Bound, boundText } from "./digits.js";
import { type Inputs, type Row, type Table, type Value, valuesOf } from "./table.js";

/** What the library says, by the names that the table uses; a list where the table has one. */
export interface Answers {
  readonly [quantity: string]: Answered | readonly Answered[];
}
type Answered = number | string | boolean;

/** Asks the library for every quantity of a row; the id tells rows apart where a table mixes examples. */
export type Ask = (inputs: Inputs, id: string) => Answers;

/** One comparison: a line of the ledger. */
export interface Entry {
  readonly row: Row;
  readonly value: Value;
  /** Absent where the library was not asked for this quantity. */
  readonly ours?: Answered;
  /** Ours − the digits; absent for words. */
  readonly difference?: number;
  /** The greatest difference that is accepted; absent for words. */
  readonly slack?: number;
  readonly within: boolean;
  /** What would have been accepted, in words. */
  readonly allowed: string;
}

/** Every comparison of a table, in its order. */
export function ledger(table: Table, ask: Ask): Entry[] {
  return table.rows.flatMap((row) => {
    const answers = ask(row.inputs, row.id);
    return valuesOf(row).map((value) => entryOf(row, value, answers, table.about.bound));
  });
}

/** What does not agree, one sentence each, with row, printed value, ours and source. */
export function misses(entries: readonly Entry[]): string[] {
  return entries.filter(({ within }) => !within).map(sentence);
}

function entryOf(row: Row, value: Value, answers: Answers, bound: Table["about"]["bound"]): Entry {
  const ours = answerTo(row, value, answers);
  return {
    row,
    value,
    ...(ours !== undefined && { ours }),
    ...judged(`${row.id}: ${value.quantity}`, value, ours, bound),
  };
}

type Judged = Pick<Entry, "difference" | "slack" | "within" | "allowed">;

function judged(where: string, { kind, digits }: Value, ours: Answered | undefined, bound: Bound | undefined): Judged {
  if (typeof ours !== "number") return { within: String(ours) === digits, allowed: "the same word" };
  if (kind === "printed") return { ...againstPrinted(ours, digits), allowed: "half a unit of the last digit" };
  if (bound === undefined) throw new Error(`${where} is exact, and the table gives no bound`);
  return { ...againstExact(ours, digits, bound), allowed: boundText(bound) };
}

/** A list of another length than ours is a mistake of the test, and is said rather than compared in part. */
function answerTo(row: Row, { kind, quantity, place }: Value, answers: Answers): Answered | undefined {
  const answer = answers[quantity];
  if (place === undefined) return Array.isArray(answer) ? undefined : (answer as Answered | undefined);
  const asked = row[kind]?.[quantity]?.length;
  return Array.isArray(answer) && answer.length === asked ? answer[place] : undefined;
}

function sentence({ row: { id, source }, value, ours, difference, allowed }: Entry): string {
  const { kind, quantity, place, digits } = value;
  const name = place === undefined ? quantity : `${quantity}[${place}]`;
  const off = difference === undefined ? "" : `, off by ${difference}`;
  const from = `${source.title}, ${source.clause} (${source.provenance})`;
  return `${id}: ${name}: ${kind} ${digits}, ours ${ours ?? "missing"}${off}; allowed: ${allowed}; ${from}`;
}
