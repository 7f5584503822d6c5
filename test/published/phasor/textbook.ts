/** Textbook examples of one kind each, by the ids of their rows. */
import {
  add,
  angle,
  complexPower,
  divide,
  lineToLine,
  magnitude,
  multiply,
  type Phases,
  type Phasor,
  polar,
  type Rotation,
  rect,
  rotate,
  scale,
  subtract,
  threePhase,
  toComponents,
} from "tripwright/phasor";
import { number, numbers, text } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { partsAs, polarAs, polarIn, sumOf } from "./named.js";

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const degrees = (radians: number): number => (radians * 180) / Math.PI;
function power(voltage: Phasor, current: Phasor): Phasor {
  const { active, reactive } = complexPower(voltage, current);
  return rect(active, reactive);
}

export const TEXTBOOK: { readonly [id: string]: (inputs: Inputs) => Answers } = {
  // Two machines behind a reactance; each P + jQ is E times the conjugate of the one current.
  "stev-2-1": (inputs) => {
    const e1 = rect(number(inputs, "E1_re"), number(inputs, "E1_im"));
    const e2 = rect(number(inputs, "E2_re"), number(inputs, "E2_im"));
    const reactance = rect(0, number(inputs, "X_ohm"));
    const current = divide(subtract(e1, e2), reactance);
    const [s1, s2] = [power(e1, current), power(e2, current)];
    return {
      ...partsAs("I", current),
      P1_W: s1.re,
      Q1_var: s1.im,
      P2_W: s2.re,
      Q2_var: s2.im,
      reactive_absorbed_var: power(multiply(current, reactance), current).im,
    };
  },
  "bird-14-15-sum": (inputs) => {
    const sum = add(
      polar(number(inputs, "a_peak_A"), number(inputs, "a_phase_deg")),
      polar(number(inputs, "b_peak_A"), number(inputs, "b_phase_deg")),
    );
    return { sum_peak_A: magnitude(sum), sum_phase_deg: angle(sum), sum_phase_rad: radians(angle(sum)) };
  },
  // Only harmonics of the same order carry power; peaks, hence the half.
  "bird-36-7-harmonic-power": (inputs) => {
    const wave = (name: string): Phasor[] => {
      const phases = numbers(inputs, `${name[0]}_phases_rad`);
      return numbers(inputs, name).map((peak, i) => polar(peak, degrees(phases[i] as number)));
    };
    const [voltages, currents] = [wave("v_peaks_V"), wave("i_peaks_A")];
    return { power_W: sumOf(...voltages.map((v, i) => power(v, currents[i] as Phasor))).re / 2 };
  },
  "bird-36-9-RL": (inputs) => {
    const [resistance, inductance] = [number(inputs, "R_ohm"), number(inputs, "L_H")];
    const orders = numbers(inputs, "orders");
    const currents = numbers(inputs, "v_peaks_V").map((peak, i) => {
      const omega = (orders[i] as number) * number(inputs, "omega_rad_per_s");
      return divide(polar(peak, 0), rect(resistance, omega * inductance));
    });
    return {
      i_peaks_A: currents.map(magnitude),
      i_phases_rad: currents.map((i) => radians(angle(i))),
      power_W: sumOf(...currents.map((i) => scale(power(i, i), resistance / 2))).re,
    };
  },
  "rotation-ACB": (inputs) => {
    const set = threePhase(number(inputs, "Va_mag"), number(inputs, "Va_deg"), text(inputs, "sequence") as Rotation);
    const { ab, bc, ca } = lineToLine(set);
    return {
      ...polarAs("Vb", set.b),
      ...polarAs("Vc", set.c),
      ...polarAs("Vab", ab),
      ...polarAs("Vbc", bc),
      ...polarAs("Vca", ca),
    };
  },
  "seq-transformer-shift": (inputs) => ({
    ...polarAs("HV_x1", rotate(polarIn(inputs, "LV_x1"), 30)),
    ...polarAs("HV_x2", rotate(polarIn(inputs, "LV_x2"), -30)),
  }),
  "gonen-9-2-power": (inputs) => {
    const phases = (name: string): Phases => {
      const imaginary = numbers(inputs, `${name}_abc_im`);
      const all = numbers(inputs, `${name}_abc_re`).map((re, i) => rect(re, imaginary[i] as number));
      const [a, b, c] = all as [Phasor, Phasor, Phasor];
      return { a, b, c };
    };
    const [voltages, currents] = [phases("V"), phases("I")];
    const [v, i] = [toComponents(voltages), toComponents(currents)];
    const { active, reactive, apparent } = complexPower(voltages, currents);
    return {
      S_VA: apparent,
      S_deg: angle(rect(active, reactive)),
      ...polarAs("V1", v.positive),
      ...polarAs("V2", v.negative),
      ...polarAs("I0", i.zero),
      ...polarAs("I1", i.positive),
      ...polarAs("I2", i.negative),
    };
  },
  // In per unit of their own bases, line and phase components differ by a turn of 30° alone.
  "stev-11-2": (inputs) => {
    const lines = toComponents({ a: polarIn(inputs, "Vab"), b: polarIn(inputs, "Vbc"), c: polarIn(inputs, "Vca") });
    return {
      ...polarAs("Vab1", lines.positive),
      ...polarAs("Vab2", lines.negative),
      ...polarAs("Va1_pu_ln_base", rotate(lines.positive, -30)),
      ...polarAs("Va2_pu_ln_base", rotate(lines.negative, 30)),
    };
  },
};
