/** How the library is asked for whole functions: currents and voltages on the inputs, quantities and times out. */
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

export const element: { readonly [table: string]: Ask } = {
  "element/flux-ratios": fluxRatio,
  "element/negative-sequence-times": negativeSequenceTime,
  "element/thermal-times": thermalTime,
};
