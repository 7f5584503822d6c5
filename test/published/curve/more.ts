/** How the library is asked backward, over time, and for the laws of machines. */
import {
  type Curve,
  type CurveSetting,
  multipleForTime,
  multiplierForTime,
  operateInstant,
  operateTime,
  type Piece,
  resetTime,
} from "tripwright/curve";
import { number, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Given, Inputs } from "../table.js";
import { curveIn, NAMES } from "./names.js";

function multiples(inputs: Inputs): Answers {
  const setting = { curve: curveIn(inputs, NAMES), multiplier: number(inputs, "time_multiplier") };
  const answer = multipleForTime(setting, number(inputs, "t_s"));
  return answer.kind === "found" ? { exists: "true", M: answer.multiple } : { exists: "false" };
}

function multipliers(inputs: Inputs): Answers {
  const point = { multiple: number(inputs, "M_multiple_of_setting"), time: number(inputs, "t_s") };
  const answer = multiplierForTime({ curve: curveIn(inputs, NAMES) }, point);
  return answer.kind === "found" ? { time_multiplier: answer.multiplier } : {};
}

/** The row "UNIT_tr_1s" stands for no curve: only its reset constant matters. */
function resets(inputs: Inputs): Answers {
  const curve: Curve = { form: "inverse", k: 1, alpha: 2, c: 0, reset: number(inputs, "t_r_s") };
  const named = NAMES[text(inputs, "curve")];
  const setting = { curve: named ?? curve, multiplier: number(inputs, "time_multiplier") };
  return { t_reset_s: resetTime(setting, number(inputs, "M_multiple_of_setting")) };
}

function thermalTimes(inputs: Inputs): Answers {
  const curve: Curve = { form: "thermal", tau: number(inputs, "tau_s") };
  const preload = number(inputs, "Ip_over_kIB");
  return { t_s: operateTime({ curve }, number(inputs, "I_over_kIB"), { preload }) };
}

function coolingTimes(inputs: Inputs): Answers {
  const curve: Curve = { form: "thermal", tau: 1, coolingTau: number(inputs, "tau_cool_s") };
  const reset = { form: "cooling", release: number(inputs, "H_release") } as const;
  return { t_s: resetTime({ curve, reset }, number(inputs, "I_over_kIB")) };
}

const energyTimes = (inputs: Inputs): Answers => ({
  t_s: operateTime({ curve: { form: "energy", k: number(inputs, "K_s") } }, number(inputs, "I2_pu")),
});

function excessTimes(inputs: Inputs): Answers {
  const curve: Curve = { form: "excess", k: number(inputs, "K_s"), power: number(inputs, "p") };
  return { t_s: operateTime({ curve }, number(inputs, "vhz_pu") / number(inputs, "setting_pu")) };
}

function integrals(inputs: Inputs, id: string): Answers {
  const multiplier = number(inputs, "time_dial" in inputs ? "time_dial" : "TMS");
  const ceiling = "G_D" in inputs ? { ceilingMultiple: number(inputs, "G_D") } : {};
  const hold = "reset" in inputs ? { reset: { form: "definite", time: 0.5 } as const } : {};
  const pure: CurveSetting = { curve: curveIn(inputs, NAMES), multiplier };
  const setting: CurveSetting = { ...pure, ...ceiling, ...hold };
  if ("M_of_t" in inputs) return { t_trip_s: operated(setting, [rising(text(inputs, "M_of_t"))]) };
  const pieces = piecesOf(inputs);
  const fraction = operateInstant(setting, pieces.slice(0, 1)).travel;
  return {
    t_trip_s: operated(setting, pieces),
    ...fractionOf(id, fraction),
    t_trip_s_without_clamp: operated(pure, pieces),
    t_trip_s_if_gap_is_0_6_s: operated(
      setting,
      pieces.map((piece, i) => (i === 1 ? { ...piece, duration: 0.6 } : piece)),
    ),
    t_trip_s_if_instantaneous_reset: operated({ ...pure, reset: { form: "instantaneous" } }, pieces),
  };
}

const fractionOf = (id: string, fraction: number): Answers => {
  if (id.startsWith("dyn.01")) return { fraction_at_2s: fraction };
  return id.startsWith("dyn.03") ? { fraction_at_1_5s: fraction } : { fraction_at_0_3s: fraction };
};

const operated = (setting: CurveSetting, pieces: readonly Piece[]): number =>
  operateInstant(setting, pieces).operatedAt ?? Number.NaN;

/** "1 + 0.5*t", long enough for any of the rows. */
function rising(law: string): Piece {
  const rate = Number(/^1 \+ ([\d.]+)\*t$/.exec(law)?.[1]);
  return { duration: 100, from: 1, to: 1 + 100 * rate };
}

/** The last stretch of a profile has no end. */
function piecesOf(inputs: Inputs): Piece[] {
  return (inputs["profile"] as readonly Given[]).map((given) => {
    const stretch = given as Inputs;
    const multiple = number(stretch, "M");
    const end = "t_to_s" in stretch ? number(stretch, "t_to_s") : 1000;
    return { duration: end - number(stretch, "t_from_s"), from: multiple, to: multiple };
  });
}

export const MORE: { readonly [table: string]: Ask } = {
  "curve/multiple-for-time": multiples,
  "curve/multiplier-for-time": multipliers,
  "curve/reset-time": resets,
  "curve/thermal-times": thermalTimes,
  "curve/cooling-times": coolingTimes,
  "curve/energy-times": energyTimes,
  "curve/excess-times": excessTimes,
  "curve/integral": integrals,
};
