/** Symmetrical components, and how large they are beside the positive sequence. */
import {
  fromComponents,
  lineToNeutral,
  magnitude,
  type Phasor,
  polar,
  type SequenceComponents,
  scale,
  threePhase,
  toComponents,
  unbalance,
} from "tripwright/phasor";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { partsAs, polarAs, polarIn, sumOf } from "./named.js";

const negativePercent = (of: SequenceComponents): number => 100 * unbalance(of, "iec-61000-4-30-negative");
const zeroPercent = (of: SequenceComponents): number => 100 * unbalance(of, "iec-61000-4-30-zero");

export function components(inputs: Inputs): Answers {
  const sequences = toComponents({ a: polarIn(inputs, "a"), b: polarIn(inputs, "b"), c: polarIn(inputs, "c") });
  const both = (name: string, p: Phasor): Answers => ({ ...polarAs(name, p), ...partsAs(name, p) });
  return {
    ...both("x0", sequences.zero),
    ...both("x1", sequences.positive),
    ...both("x2", sequences.negative),
    ...polarAs("neutral_3x0", scale(sequences.zero, 3)),
    x2_over_x1_percent: negativePercent(sequences),
    x0_over_x1_percent: zeroPercent(sequences),
  };
}

export function phases(inputs: Inputs): Answers {
  const { a, b, c } = fromComponents({
    zero: polarIn(inputs, "x0"),
    positive: polarIn(inputs, "x1"),
    negative: polarIn(inputs, "x2"),
  });
  return { ...polarAs("a", a), ...polarAs("b", b), ...polarAs("c", c) };
}

export function unbalances(inputs: Inputs): Answers {
  if ("Uab_V" in inputs) return ofLines(number(inputs, "Uab_V"), number(inputs, "Ubc_V"), number(inputs, "Uca_V"));
  const sequences = toComponents({ a: polarIn(inputs, "Va"), b: polarIn(inputs, "Vb"), c: polarIn(inputs, "Vc") });
  return {
    ...polarAs("V0", sequences.zero),
    ...polarAs("V1", sequences.positive),
    ...polarAs("V2", sequences.negative),
    u2_percent: negativePercent(sequences),
    u0_percent: zeroPercent(sequences),
  };
}

/** The definitions by magnitudes alone; the components by the phasors of the triangle, ab along the axis. */
function ofLines(ab: number, bc: number, ca: number): Answers {
  // The half of the angle across from ca, which the law of cosines would lose where ca is small.
  const half = Math.atan2(Math.sqrt((ca - ab + bc) * (ca + ab - bc)), Math.sqrt((ab + bc + ca) * (ab + bc - ca)));
  const atB = (half * 360) / Math.PI;
  const [first, second] = [polar(ab, 0), polar(bc, atB - 180)];
  const lines = { ab: first, bc: second, ca: scale(sumOf(first, second), -1) };
  const betweenLines = toComponents({ a: lines.ab, b: lines.bc, c: lines.ca });
  const ofPhases = toComponents(lineToNeutral(lines));
  return {
    u2_percent_IEC: 100 * unbalance({ ab, bc, ca }, "iec-61000-4-30-negative"),
    nema_percent: 100 * unbalance({ ab, bc, ca }, "nema-mg-1"),
    V1_ll: magnitude(betweenLines.positive),
    V2_ll: magnitude(betweenLines.negative),
    V1_ln: magnitude(ofPhases.positive),
    V2_ln: magnitude(ofPhases.negative),
  };
}

/** A balanced set, whose line-to-line voltage is given. */
export function lineVoltages(inputs: Inputs): Answers {
  const { a, b, c } = threePhase(number(inputs, "line_line_V"));
  const phase = magnitude(lineToNeutral({ ab: a, bc: b, ca: c }).a);
  return { line_neutral_V: phase, line_neutral_peak_V: Math.SQRT2 * phase };
}
