import {
  type AssignedError,
  type ClassIndex,
  type InverseCurve,
  multiplierForMargin,
  multiplierForTime,
  operateTime,
  type SeriesRelay,
  standardCurve,
  timeBand,
  type WantedMargin,
} from "tripwright/curve";
import { group, number, numbers, ratio, text } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { MACHINES } from "./machines.js";
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

/** A pickup error shifts the multiple as an error of the current does. */
function sensitivity(inputs: Inputs): Answers {
  const setting = { curve: curveIn(inputs, NAMES) };
  const pickupPercent = number(inputs, "current_error_percent");
  const multiple = number(inputs, "M_multiple_of_setting");
  const { nominal, low, high } = timeBand(setting, multiple, { form: "constant", percent: 0, pickupPercent });
  const change = (limit = Number.NaN): number => (limit / nominal - 1) * 100;
  return {
    t_nominal_s: nominal,
    time_error_percent_if_current_1_percent_high: change(low),
    time_error_percent_if_current_1_percent_low: change(high),
  };
}

/** What a rule accepts in percent, seen on a time of 1 s at 100 times the percentage, so that nothing cancels. */
function limitingError(inputs: Inputs, declared: number, multiple: number): number {
  const form = text(inputs, "rule") as (AssignedError | ClassIndex)["form"];
  const second = { curve: { form: "definite", time: 1 } } as const;
  return (timeBand(second, multiple, { form, percent: 100 * declared }).high ?? Number.NaN) - 1;
}

function timeBands(inputs: Inputs): Answers {
  if ("independent_times_s" in inputs) {
    const rule = {
      form: "constant",
      percent: number(inputs, "percent"),
      absolute: number(inputs, "absolute_s"),
    } as const;
    const bands = numbers(inputs, "independent_times_s").map((time) =>
      timeBand({ curve: { form: "definite", time } }, 2, rule),
    );
    return { t_low_s: bands.map(({ low = Number.NaN }) => low), t_high_s: bands.map(({ high = Number.NaN }) => high) };
  }
  if ("multiples" in inputs) {
    const declared = number(inputs, "declared_percent");
    return {
      limiting_error_percent: numbers(inputs, "multiples").map((multiple) => limitingError(inputs, declared, multiple)),
    };
  }
  const setting = { curve: curveIn(inputs, NAMES), multiplier: number(inputs, "TMS") };
  const [multiple, percent] = [number(inputs, "M_multiple_of_setting"), number(inputs, "assigned_error_percent")];
  const {
    nominal,
    low = Number.NaN,
    high = Number.NaN,
  } = timeBand(setting, multiple, { form: "assigned-error", percent });
  const limiting_error_percent = limitingError(inputs, percent, multiple);
  return { t_nominal_s: nominal, limiting_error_percent, t_low_s: low, t_high_s: high };
}

/** A relay of which only its operate time is known. */
const timed = (time: number): SeriesRelay => ({ setting: { curve: { form: "definite", time } }, pickup: 1 });

/** The multiplier of the upstream relay on a grid so fine that it is the exact one. */
function graded(given: Omit<WantedMargin, "step">) {
  const answer = multiplierForMargin({ ...given, step: 1e-14, maximum: 1 });
  if (answer.kind === "none") throw new Error(answer.reason);
  return { multiplier: answer.multiplier, time: answer.tightest?.upstream ?? Number.NaN };
}

/** Worked examples of grading, by the ids of their rows. */
const GRADED: { readonly [id: string]: (inputs: Inputs) => Answers } = {
  "ex.numerade.two_relays": (inputs) => {
    const relay = (name: string, other: object): SeriesRelay => {
      const given = group(inputs, name);
      const ct = ratio(given, "CT");
      const multiplier = "TMS" in given ? { multiplier: number(given, "TMS") } : {};
      const setting = { curve: curveIn(inputs, IEC), ...multiplier, ...other };
      return { setting, pickup: number(given, "pickup_pu") * ct.secondary, ct };
    };
    const multiplier = (other: object): number =>
      graded({
        upstream: relay("B", other),
        downstream: relay("A", other),
        currents: [number(inputs, "fault_A")],
        required: number(inputs, "interval_s"),
      }).multiplier;
    return { TMS_B: multiplier({}), TMS_B_if_held_above_20: multiplier({ ceilingMultiple: 20 }) };
  },
  "ex.chakrabarti.7_4.TMS2": (inputs) => {
    const upstream = timed(number(inputs, "curve_time_relay2_s"));
    const downstream = timed(number(inputs, "t_relay1_s"));
    const { multiplier, time } = graded({ upstream, downstream, currents: [2], required: number(inputs, "margin_s") });
    return { t2_s: time, TMS2: multiplier };
  },
  "ex.chakrabarti.7_3.xfmr": (inputs) => {
    const upstream = timed(number(inputs, "curve_time_s"));
    const downstream = timed(number(inputs, "t_feeder_s"));
    return { TMS: graded({ upstream, downstream, currents: [2], required: number(inputs, "margin_s") }).multiplier };
  },
  "ex.stevenson.13_3": (inputs) => {
    const downstream = timed(number(inputs, "t_R4_s"));
    const required = number(inputs, "coordination_interval_s");
    return { R3_required_t_s: graded({ upstream: timed(1), downstream, currents: [2], required }).time };
  },
  "ex.glover.10_4": (inputs) => {
    const none = { overshoot: 0, ctErrorPercent: 0, relayErrorsPercent: { upstream: 0, downstream: 0 } };
    const required = {
      ...none,
      breakerTime: number(inputs, "breaker_s"),
      safetyTime: number(inputs, "coordination_s"),
    };
    const after = (name: string): number =>
      graded({ upstream: timed(1), downstream: timed(number(inputs, name)), currents: [2], required }).time;
    return { t_B2_s: after("t_B3_s"), t_B1_s: after("t_B2_at_3000_s") };
  },
  // The row writes its multiple as fault current / CT ratio / plug setting.
  "ex.lect.10_8.R3": (inputs) => {
    const point = { multiple: number(inputs, "PSM_from"), time: number(inputs, "t_required_s") };
    const answer = multiplierForTime({ curve: curveIn(inputs, IEC) }, point);
    return answer.kind === "found" ? { TMS: answer.multiplier } : {};
  },
};

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
  "curve/time-band": timeBands,
  "curve/coordination": (inputs, id) => GRADED[id]?.(inputs) ?? {},
  ...MORE,
  ...MACHINES,
};
