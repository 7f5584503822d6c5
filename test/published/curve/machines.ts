/** How the library is asked for machines that heat, and for quantities that decay. */
import {
  type Curve,
  multipleForTime,
  multiplierForTime,
  operateInstant,
  operateTime,
  type Piece,
} from "tripwright/curve";
import { number, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { NAMES } from "./names.js";

const PIECES = 4_000;

/** Straight pieces of a 4,000th of the time constant, for so many time constants. */
function decay(value: (t: number) => number, tau: number, constants = 3): readonly Piece[] {
  const duration = tau / PIECES;
  return Array.from({ length: constants * PIECES }, (_, i) => ({
    duration,
    from: value(i * duration),
    to: value((i + 1) * duration),
  }));
}

function decays(inputs: Inputs, id: string): Answers {
  if ("V_pu_of_t" in inputs) {
    const setting = { curve: "undervoltage-inverse", multiplier: number(inputs, "TMS") } as const;
    const volts = decay((t) => Math.exp(-t / 3) / number(inputs, "Vs_pu"), 3);
    return { t_trip_s: operateInstant(setting, volts).operatedAt ?? Number.NaN };
  }
  if ("I2_of_t_pu" in inputs) {
    const curve: Curve = { form: "energy", k: number(inputs, "K_s") };
    return {
      t_trip_s:
        operateInstant(
          { curve },
          decay((t) => 2 * Math.exp(-t / 8), 8),
        ).operatedAt ?? Number.NaN,
    };
  }
  // "1 + 9*exp(-t/2)"
  const [, above, tau] = /^1 \+ (\d+)\*exp\(-t\/(\d+)\)$/.exec(text(inputs, "M_of_t")) ?? [];
  // One never operates, however long the decay lasts: after 17 time constants 4e-8 of it is left.
  const constants = id.includes("no_trip") ? 17 : 3;
  const multiples = decay((t) => 1 + Number(above) * Math.exp(-t / Number(tau)), Number(tau), constants);
  const setting = { curve: NAMES[text(inputs, "curve")]!, multiplier: number(inputs, "TMS") };
  const { operatedAt, travel } = operateInstant(setting, multiples);
  return operatedAt === undefined ? { final_fraction: travel } : { t_trip_s: operatedAt };
}

function heating(inputs: Inputs, id: string): Answers {
  if ("I_B_A" in inputs) {
    const base = number(inputs, "k") * number(inputs, "I_B_A");
    const curve: Curve = { form: "thermal", tau: number(inputs, "tau_s") };
    const [multiple, preload] = [number(inputs, "I_A") / base, number(inputs, "I_preload_A") / base];
    return {
      t_cold_s: operateTime({ curve }, multiple),
      t_hot_s: operateTime({ curve }, multiple, { preload }),
      H_preload: preload * preload,
    };
  }
  if ("trip_class" in inputs) {
    // A class bounds the time at 7.2 times the rated current from cold; the image operates at 1.05 times it.
    const point = { multiple: number(inputs, "I_over_Ie") / 1.05, time: number(inputs, "trip_class") };
    const answer = multiplierForTime({ curve: { form: "thermal", tau: 1 } }, point);
    return { tau_giving_upper_limit_with_k_1_05_s: answer.kind === "found" ? answer.multiplier : Number.NaN };
  }
  return TEXTBOOK[id]?.(inputs) ?? {};
}

/** Minutes stand for seconds throughout. */
const TEXTBOOK: { readonly [id: string]: (inputs: Inputs) => Answers } = {
  "th.gupta.4_4": cyclicDuty,
  "th.gupta.4_7": cyclicDuty,
  "th.gupta.4_9": (inputs) => {
    const curve: Curve = { form: "thermal", tau: number(inputs, "tau_heat_min") };
    const answer = multipleForTime({ curve }, number(inputs, "on_min"));
    return { short_time_kW: answer.kind === "found" ? number(inputs, "rating_kW") * answer.multiple : Number.NaN };
  },
  "th.jbgupta.49": (inputs) => {
    const multiple = Math.sqrt(number(inputs, "loss_double") / number(inputs, "loss_full"));
    return { t_min: operateTime({ curve: { form: "thermal", tau: number(inputs, "tau_min") } }, multiple) };
  },
  "th.jbgupta.52": (inputs) => {
    const [tau, limit] = [number(inputs, "tau_h"), number(inputs, "rise_C_at_1h")];
    const final = limit / -Math.expm1(-1 / tau);
    const preload = Math.sqrt(number(inputs, "start_rise_C") / limit);
    const curve: Curve = { form: "thermal", tau: 60 * tau };
    return { time_50_to_80_min: operateTime({ curve }, Math.sqrt(final / limit), { preload }) };
  },
};

/** On and off until nothing changes from one turn to the next; on heats towards half of what would operate. */
function cyclicDuty(inputs: Inputs): Answers {
  const on = { duration: number(inputs, "on_min"), from: Math.SQRT1_2, to: Math.SQRT1_2 };
  const off = { duration: number(inputs, "off_min"), from: 0, to: 0 };
  const [tau, coolingTau] = [number(inputs, "tau_heat_min"), number(inputs, "tau_cool_min")];
  const turns = Array.from({ length: 200 }, () => [on, off]).flat();
  const { travel } = operateInstant({ curve: { form: "thermal", tau, coolingTau } }, [...turns, on]);
  return { max_rise_C: (number(inputs, "final_rise_C") * travel) / 0.5 };
}

function negativeSequenceLimits(inputs: Inputs): Answers {
  const curve: Curve = { form: "energy", k: number(inputs, "I2sq_t_s") };
  return {
    time_at_I2_0_3_pu_s: operateTime({ curve }, 0.3),
    time_at_I2_0_5_pu_s: operateTime({ curve }, 0.5),
  };
}

export const MACHINES: { readonly [table: string]: Ask } = {
  "curve/decays": decays,
  "curve/heating": heating,
  "curve/negative-sequence-limits": negativeSequenceLimits,
};
