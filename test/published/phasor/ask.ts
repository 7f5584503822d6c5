import {
  angle,
  complexPower,
  conjugate,
  divide,
  magnitude,
  multiply,
  normalizeAngle,
  polar,
  rect,
  rotate,
  subtract,
} from "tripwright/phasor";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { components, lineVoltages, phases, unbalances } from "./components.js";
import { shortCircuits } from "./faults.js";
import { polarAs, polarIn, sumOf } from "./named.js";
import { deltaToWye, faultCurrents } from "./network.js";
import { perUnits } from "./per-unit.js";
import { secondary } from "./secondary.js";
import { TEXTBOOK } from "./textbook.js";

function polarAndRectangular(inputs: Inputs, id: string): Answers {
  if ("mag" in inputs) return { ...polar(number(inputs, "mag"), number(inputs, "angle_deg")) };
  // The row writes its inputs as words: whichever zero of IEEE 754 the imaginary part is, the angle is the same.
  if (id === "rectpol-signed-zero") {
    const [plus, minus] = [angle({ re: -1, im: 0 }), angle({ re: -1, im: -0 })];
    return plus === minus ? { canonical_deg: plus } : {};
  }
  const p = rect(number(inputs, "re"), number(inputs, "im"));
  return { mag: magnitude(p), angle_deg: angle(p) };
}

function normalized(inputs: Inputs): Answers {
  const given = number(inputs, "angle_literal");
  const positive = normalizeAngle(given, "positive");
  return {
    in_minus180_excl_to_180_incl_deg: normalizeAngle(given),
    in_0_to_360_excl_deg: positive,
    correct_minus1e_20: positive,
  };
}

function operations(inputs: Inputs): Answers {
  const [a, b] = [polarIn(inputs, "a"), polarIn(inputs, "b")];
  return {
    ...polarAs("product", multiply(a, b)),
    ...polarAs("quotient", divide(a, b)),
    ...polarAs("sum", sumOf(a, b)),
    ...polarAs("difference", subtract(a, b)),
    ...polarAs("a_times_conj_b", multiply(a, conjugate(b))),
  };
}

function power(inputs: Inputs): Answers {
  const [voltage, current] = [polarIn(inputs, "V"), polarIn(inputs, "I")];
  const { active, reactive, apparent, powerFactor, sense } = complexPower(voltage, current);
  return {
    P_W: active,
    Q_var: reactive,
    S_VA: apparent,
    ...(powerFactor !== undefined && { power_factor: powerFactor }),
    V_minus_I_deg: angle(divide(voltage, current)),
    lag_or_lead: sense,
  };
}

/** Each hour of the clock is a lag of 30°; the negative sequence turns the other way. */
function clockNumber(inputs: Inputs): Answers {
  const lag = 30 * number(inputs, "clock");
  const [positive, negative] = [rotate(polar(1, 0), -lag), rotate(polar(1, 0), lag)];
  return {
    "LV_phasor_relative_to_HV_positive_sequence.re": positive.re,
    "LV_phasor_relative_to_HV_positive_sequence.im": positive.im,
    "negative_sequence.re": negative.re,
    "negative_sequence.im": negative.im,
  };
}

export const phasor: { readonly [table: string]: Ask } = {
  "phasor/polar-rectangular": polarAndRectangular,
  "phasor/normalize-angle": normalized,
  "phasor/operations": operations,
  "phasor/power": power,
  "phasor/textbook": (inputs, id) => TEXTBOOK[id]?.(inputs) ?? {},
  "phasor/delta-wye": deltaToWye,
  "phasor/symmetrical-components": components,
  "phasor/phases-from-components": phases,
  "phasor/line-voltages": lineVoltages,
  "phasor/unbalance": unbalances,
  "phasor/clock-number": clockNumber,
  "phasor/fault-currents": faultCurrents,
  "phasor/short-circuits": shortCircuits,
  "phasor/per-unit": perUnits,
  "phasor/secondary": secondary,
};
