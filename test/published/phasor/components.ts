/** Symmetrical components by sums and turns, as the textbooks define them: a is a turn of 120°. */
import { type Phasor, rotate, scale } from "tripwright/phasor";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { partsAs, polarAs, polarIn, sumOf } from "./named.js";

export interface Components {
  readonly zero: Phasor;
  readonly positive: Phasor;
  readonly negative: Phasor;
}

export function componentsOf(a: Phasor, b: Phasor, c: Phasor): Components {
  return {
    zero: scale(sumOf(a, b, c), 1 / 3),
    positive: scale(sumOf(a, rotate(b, 120), rotate(c, 240)), 1 / 3),
    negative: scale(sumOf(a, rotate(b, 240), rotate(c, 120)), 1 / 3),
  };
}

export function components(inputs: Inputs): Answers {
  const [a, b, c] = [polarIn(inputs, "a"), polarIn(inputs, "b"), polarIn(inputs, "c")];
  const { zero, positive, negative } = componentsOf(a, b, c);
  const both = (name: string, p: Phasor): Answers => ({ ...polarAs(name, p), ...partsAs(name, p) });
  return {
    ...both("x0", zero),
    ...both("x1", positive),
    ...both("x2", negative),
    ...polarAs("neutral_3x0", sumOf(a, b, c)),
  };
}

export function phases(inputs: Inputs): Answers {
  const [zero, positive, negative] = [polarIn(inputs, "x0"), polarIn(inputs, "x1"), polarIn(inputs, "x2")];
  return {
    ...polarAs("a", sumOf(zero, positive, negative)),
    ...polarAs("b", sumOf(zero, rotate(positive, 240), rotate(negative, 120))),
    ...polarAs("c", sumOf(zero, rotate(positive, 120), rotate(negative, 240))),
  };
}
