/** How the library is asked for whole functions: currents and voltages on the inputs, quantities and times out. */
import { faultAt, type Loop, type RestraintSlope } from "tripwright/characteristic";
import {
  type DistanceSetting,
  type DistanceZone,
  definitionOf,
  type ElementSetting,
  inputsOf,
  operateTimeOf,
  standingAt,
} from "tripwright/element";
import { magnitude, polar, subtract } from "tripwright/phasor";
import { number, text } from "../given.js";
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

/** A distance zone, its reach and k0 as a row gives them. */
function zoneOf(inputs: Inputs): DistanceSetting {
  const angle = "MTA_deg" in inputs ? number(inputs, "MTA_deg") : 0;
  const law = { curve: { form: "definite", time: 0, side: "under" } } as const;
  const given = (zone: DistanceZone, pickup: number): DistanceSetting => ({
    ...common,
    function: "21",
    watches: "phase-loops",
    operates: "forward",
    law,
    zone,
    pickup,
  });
  if ("reach_ohm" in inputs) return given({ form: "mho", lineAngle: angle }, number(inputs, "reach_ohm"));
  if ("forward_ohm" in inputs) {
    const reach = number(inputs, "forward_ohm");
    return given({ form: "mho", lineAngle: angle, reverseRatio: number(inputs, "reverse_ohm") / reach }, reach);
  }
  const lineAngle = number(inputs, "line_angle_deg");
  // The reach along the line of a reactive reach.
  const reach = number(inputs, "reactive_reach_ohm") / Math.sin((lineAngle * Math.PI) / 180);
  return given(
    {
      form: "quadrilateral",
      lineAngle,
      resistanceRatio: number(inputs, "resistive_reach_ohm") / reach,
      tilt: number(inputs, "reactance_line_tilt_deg"),
      blinderAngle: number(inputs, "right_blinder_angle_deg"),
      forward: { from: -15, to: 115 },
    },
    reach,
  );
}

/** A fault of 1 ohm along the angle reads the reach that would end there: the boundary lies at reach over that. */
function distanceReach(inputs: Inputs): Answers {
  const setting = zoneOf(inputs);
  const impedance = polar(1, number(inputs, "test_angle_deg"));
  const { v, i } = faultAt({ loop: "abc", impedance, healthyVoltage: 64, held: { current: 1 } });
  const seen = Object.entries({ va: v.a, vb: v.b, vc: v.c, ia: i.a, ib: i.b, ic: i.c });
  const states = Object.fromEntries(seen.map(([name, phasor]) => [name, { ...phasor, frequency: 50 }]));
  return { boundary_ohm: setting.pickup / definitionOf("21").read(states, setting).quantity };
}

/** The voltage of the first loop at an impedance, on a bench that gives the current, no more, and voltage enough. */
function distanceInjection(inputs: Inputs): Answers {
  const ohm = number(inputs, "Z_loop_ohm");
  const current = number(inputs, "I_A");
  const bench = { frequency: 50, rotation: "ABC", currentChannels: 3, voltageChannels: 3 } as const;
  const loopVoltage = (watches: "phase-loops" | "earth-loops", loop: Loop): number => {
    const setting: DistanceSetting = {
      ...zoneOf({ reach_ohm: String(ohm), MTA_deg: text(inputs, "angle_deg") }),
      watches,
      ...(watches === "earth-loops" && { earth: { factor: { re: Number(text(inputs, "k0").split(" ")[0]), im: 0 } } }),
    };
    const pose = definitionOf("21").pose(setting, {
      ...bench,
      ratedVoltage: 1000,
      ratedCurrent: current,
      largestCurrent: current,
    });
    if (pose.kind === "none") throw new Error(pose.reason);
    const seen = inputsOf(standingAt(pose, ohm), pose.wiring);
    const zero = { re: 0, im: 0 };
    const of = (phase: string) => seen[`v${phase}`] ?? zero;
    return magnitude(loop.length === 1 ? of(loop) : subtract(of(loop.charAt(0)), of(loop.charAt(1))));
  };
  return { V_phase_phase_loop_V: loopVoltage("phase-loops", "ab"), V_single_phase_V: loopVoltage("earth-loops", "a") };
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
  "element/distance-reaches": distanceReach,
  "element/distance-injections": distanceInjection,
  "element/differential-trips": tripsOfTwoEnds,
  "element/differential-lines": differentialLine,
};
