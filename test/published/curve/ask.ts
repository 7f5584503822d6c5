import { type InverseCurve, operateTime, standardCurve } from "tripwright/curve";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { MORE } from "./more.js";
import { curveIn, IEC, IEEE, LETTERS, NAMES } from "./names.js";
import { WORKED } from "./worked.js";

function operateTimes(inputs: Inputs): Answers {
  const setting = { curve: curveIn(inputs, NAMES), multiplier: number(inputs, "time_multiplier") };
  const multiple = number(inputs, "M_multiple_of_setting");
  return {
    t_s: operateTime(setting, multiple),
    t_s_if_held_constant_above_20: operateTime({ ...setting, ceilingMultiple: 20 }, multiple),
  };
}

function constants(inputs: Inputs): Answers {
  const { k, c, alpha } = standardCurve(curveIn(inputs, LETTERS)) as InverseCurve;
  return { k_s: k, c_s: c, alpha };
}

function ieeeTimes(inputs: Inputs): Answers {
  const curve = curveIn(inputs, IEEE);
  const multiple = number(inputs, "M_multiple_of_setting");
  return {
    t_TD1_s: operateTime({ curve, multiplier: 1 }, multiple),
    t_TD5_s: operateTime({ curve, multiplier: 5 }, multiple),
  };
}

function sensitivity(inputs: Inputs): Answers {
  const multiple = number(inputs, "M_multiple_of_setting");
  const share = number(inputs, "current_error_percent") / 100;
  const time = (at: number): number => operateTime({ curve: curveIn(inputs, NAMES) }, at);
  const change = (at: number): number => (time(at) / time(multiple) - 1) * 100;
  return {
    t_nominal_s: time(multiple),
    time_error_percent_if_current_1_percent_high: change(multiple * (1 + share)),
    time_error_percent_if_current_1_percent_low: change(multiple * (1 - share)),
  };
}

export const curve: { readonly [table: string]: Ask } = {
  "curve/operate-time": operateTimes,
  "curve/constants": constants,
  "curve/handbook-times": (inputs) => ({
    t_s: operateTime(
      { curve: curveIn(inputs, IEC), multiplier: number(inputs, "TMS") },
      number(inputs, "M_multiple_of_setting"),
    ),
  }),
  "curve/ieee-times": ieeeTimes,
  "curve/worked-examples": (inputs, id) => WORKED[id]?.(inputs) ?? {},
  "curve/overvoltage": (inputs) => ({
    t_s: operateTime({ curve: "overvoltage-inverse", multiplier: number(inputs, "TMS") }, number(inputs, "V_over_Vs")),
  }),
  "curve/undervoltage": (inputs) => ({
    t_s: operateTime({ curve: "undervoltage-inverse", multiplier: number(inputs, "TMS") }, number(inputs, "V_over_Vs")),
  }),
  "curve/sensitivity": sensitivity,
  ...MORE,
};
