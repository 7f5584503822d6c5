/** How the library is asked for whole functions: currents and voltages on the inputs, quantities and times out. */

import type { RestraintSlope } from "tripwright/characteristic";
import { definitionOf, type ElementSetting, operateTimeOf } from "tripwright/element";
import { polar } from "tripwright/phasor";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";

const common = {
  id: "E",
  measuringDelay: 0.04,
  contact: "trip",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
} as const;

const RATED = 5;

function fluxRatio(inputs: Inputs): Answers {
  const ratedVoltage = 64;
  const frequency = number(inputs, "f_Hz");
  const volts = (angle: number) => ({ ...polar(number(inputs, "V_pu") * ratedVoltage, angle), frequency });
  const setting = {
    ...common,
    function: "24",
    watches: "line-to-neutral",
    pickup: 1.1,
    ratedVoltage,
    ratedFrequency: number(inputs, "fn_Hz"),
    law: { curve: { form: "definite", time: 1 } },
  } as const satisfies ElementSetting;
  return { vhz_pu: definitionOf("24").read({ va: volts(0), vb: volts(-120), vc: volts(120) }, setting).quantity };
}

function negativeSequenceTime(inputs: Inputs): Answers {
  const setting = {
    ...common,
    function: "46",
    watches: "I2",
    rotation: "ABC",
    pickup: RATED,
    // It starts well below rated current; the law is written on rated current.
    law: { curve: { form: "energy", k: number(inputs, "I2sq_t_s") }, startRatio: 0.1 },
  } as const satisfies ElementSetting;
  const ia = { re: number(inputs, "phase_current_over_rated") * RATED, im: 0, frequency: 50 };
  return { time_s: operateTimeOf(setting, { ia }) };
}

function thermalTime(inputs: Inputs): Answers {
  const setting = {
    ...common,
    function: "49",
    watches: "phase",
    rotation: "ABC",
    pickup: number(inputs, "k") * number(inputs, "I_B_A"),
    law: { curve: { form: "thermal", tau: number(inputs, "tau_s") } },
  } as const satisfies ElementSetting;
  return { t_cold_s: operateTimeOf(setting, { ib: { re: number(inputs, "I_A"), im: 0, frequency: 50 } }) };
}

const one = { ratedCurrent: 1, clock: 0, zeroSequence: "kept" } as const;

/** Whether an 87 operates on these currents of phase a, counted into the zone, whose sides are rated alike. */
function differentialTrips(own: { pickup: number; slopes: readonly RestraintSlope[] }, first: number, second: number) {
  const setting = {
    ...common,
    ...own,
    function: "87",
    watches: "differential",
    restraint: "average",
    zone: { first: one, second: one },
    law: { curve: { form: "definite", time: 0 } },
  } as const satisfies ElementSetting;
  const seen = (re: number) => ({ re, im: 0, frequency: 50 });
  return Number.isFinite(operateTimeOf(setting, { ia: seen(first), ia2: seen(second) }));
}

function tripsOfTwoEnds(inputs: Inputs): Answers {
  const ratio = number(inputs, "CT_ratio");
  const [pickup, slope] = [number(inputs, "pickup_A"), number(inputs, "slope_percent") / 100];
  const trips = (given: RestraintSlope) =>
    `${differentialTrips({ pickup, slopes: [given] }, number(inputs, "I1_A") / ratio, -number(inputs, "I2_A") / ratio)}`;
  const alone = trips({ slope, line: "through-origin" });
  return {
    trip_slope_only: alone,
    trip_pickup_plus_slope: trips({ slope, line: "from-knee", begins: 0 }),
    published_trip: alone,
  };
}

/** The differential current at which it begins to operate, the restraint held by both sides. */
function differentialLine(inputs: Inputs): Answers {
  const restraint = number(inputs, "I_restrain_pu");
  const threshold = (line: RestraintSlope["line"]) => {
    const slopes = [
      { slope: number(inputs, "slope1_percent") / 100, line: "through-origin" },
      { slope: number(inputs, "slope2_percent") / 100, line, begins: number(inputs, "break2_pu") },
    ] as const;
    const own = { pickup: number(inputs, "pickup_pu"), slopes };
    let [low, high] = [0, 2 * restraint];
    for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
      if (differentialTrips(own, restraint + middle / 2, middle / 2 - restraint)) high = middle;
      else low = middle;
    }
    return high;
  };
  return {
    threshold_pu_second_slope_from_knee: threshold("from-knee"),
    threshold_pu_second_slope_through_origin: threshold("through-origin"),
  };
}

export const element: { readonly [table: string]: Ask } = {
  "element/flux-ratios": fluxRatio,
  "element/negative-sequence-times": negativeSequenceTime,
  "element/thermal-times": thermalTime,
  "element/differential-trips": tripsOfTwoEnds,
  "element/differential-lines": differentialLine,
};
