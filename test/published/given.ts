/** Reads what a row gives; a name that is not there is a mistake of the table or of the test, and raises an error. */
import type { Phasor, TransformerRatio } from "tripwright/phasor";
import type { Given, Inputs } from "./table.js";

export function text(inputs: Inputs, name: string): string {
  const value = inputs[name];
  if (typeof value === "string") return value;
  throw new Error(`${name}: expected text, the row gives ${JSON.stringify(value)}`);
}

/** A number, or text such as "1.000001" or "1/3": the double nearest to it. */
export function number(inputs: Inputs, name: string): number {
  return numberOf(inputs[name], name);
}

export function numbers(inputs: Inputs, name: string): number[] {
  const list = inputs[name];
  if (!Array.isArray(list)) throw new Error(`${name}: expected a list, the row gives ${JSON.stringify(list)}`);
  return list.map((item: Given) => numberOf(item, name));
}

/** Inputs within inputs. */
export function group(inputs: Inputs, name: string): Inputs {
  const value = inputs[name];
  if (typeof value === "object" && value !== null && !Array.isArray(value)) return value as Inputs;
  throw new Error(`${name}: expected a group, the row gives ${JSON.stringify(value)}`);
}

/** "600/5". */
export function ratio(inputs: Inputs, name: string): TransformerRatio {
  const [primary, secondary] = text(inputs, name).split("/");
  return { primary: numberOf(primary, name), secondary: numberOf(secondary, name) };
}

/** "8.2+j32". */
export function complex(inputs: Inputs, name: string): Phasor {
  const [re, im] = text(inputs, name).split("+j");
  return { re: numberOf(re, name), im: numberOf(im, name) };
}

function numberOf(value: Given | undefined, name: string): number {
  const read =
    typeof value === "string"
      ? value
          .split("/")
          .map(Number)
          .reduce((a, b) => a / b)
      : value;
  if (typeof read === "number" && Number.isFinite(read) && value !== "") return read;
  throw new Error(`${name}: expected a number, the row gives ${JSON.stringify(value)}`);
}
