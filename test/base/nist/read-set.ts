/** Reads the files of NIST as they are published: starts and certified values by their lines, the data below them. */
import { readdirSync, readFileSync } from "node:fs";

/** A set with what NIST certifies, 11 significant digits each. */
export interface CertifiedSet {
  readonly name: string;
  readonly starts: readonly [readonly number[], readonly number[]];
  readonly parameters: readonly number[];
  readonly standardDeviations: readonly number[];
  readonly sumOfSquares: number;
  readonly observations: readonly { readonly y: number; readonly x: readonly number[] }[];
}

/** Names of the sets that lie here. */
export const setNames: readonly string[] = readdirSync(new URL(".", import.meta.url))
  .filter((file) => file.endsWith(".dat"))
  .map((file) => file.slice(0, -4))
  .sort();

/** Reads a set; a file that does not hold what it announces is refused. */
export function readSet(name: string): CertifiedSet {
  const text = readFileSync(new URL(`${name}.dat`, import.meta.url), "utf8");
  const parameters = [...text.matchAll(/^ *b\d = +(.+?) *$/gm)].map(([, row]) => numbersOf(row as string));
  const data = text.slice(text.lastIndexOf("Data:")).split("\n").slice(1);
  // Nelson's model is one of log y.
  const response = /^ +log\[y\] =/m.test(text) ? Math.log : (y: number) => y;
  const observations = data
    .filter((line) => line.trim() !== "")
    .map(numbersOf)
    .map(([y, ...x]) => ({ y: response(y as number), x }));
  if (observations.length !== labelled(text, "Number of Observations"))
    throw new Error(`${name}: ${observations.length} observations`);
  if (parameters.length !== Number(/(\d+) Parameters/.exec(text)?.[1])) throw new Error(`${name}: parameters missing`);
  const column = (i: number) => parameters.map((row) => row[i] as number);
  return {
    name,
    starts: [column(0), column(1)],
    parameters: column(2),
    standardDeviations: column(3),
    sumOfSquares: labelled(text, "Residual Sum of Squares"),
    observations,
  };
}

const labelled = (text: string, label: string): number => Number(new RegExp(`${label}: +(\\S+)`).exec(text)?.[1]);

function numbersOf(line: string): number[] {
  const numbers = line.trim().split(/\s+/).map(Number);
  if (!numbers.every(Number.isFinite)) throw new Error(`not all numbers: ${line}`);
  return numbers;
}
