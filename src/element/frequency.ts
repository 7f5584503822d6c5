import type { Answer } from "../base/answer.js";
import { eachChannel, type Lift } from "../base/sequence.js";
import type { Definition, Observation, Pose } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import { posed } from "./poses.js";
import type { FrequencyRateSetting, FrequencySetting } from "./setting.js";
import { type Setup, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";
import { measuredVoltage } from "./watched.js";

/** At rated voltage; what the level moves starts from `frequency`. */
function atRatedVoltage(setup: Setup, frequency: number, lift: Lift): Answer<Pose, string> {
  if (setup.ratedVoltage === undefined)
    return { kind: "none", reason: "no rated voltage is given to inject the frequency at" };
  const { states, wiring } = voltagesToNeutral(setup, setup.ratedVoltage / SQRT3);
  return posed({ states: eachChannel(states, (state) => ({ ...state, frequency })), wiring }, lift);
}

/** Measured on the highest phase, the first of equals; without any voltage there is no frequency, so the function is blocked then too. */
function reader(side: "over" | "under") {
  return (inputs: RelayInputs, setting: FrequencySetting): Observation => {
    const { volts, state } = measuredVoltage(inputs);
    return observe(state?.frequency ?? 0, setting, side, {
      blocked: state === undefined || volts < (setting.blockBelow ?? 0),
    });
  };
}

const common = {
  unit: "Hz",
  watches: ["frequency"],
  fields: ["blockBelow"],
  system: [],
  laws: ["definite"],
  pose: (_setting: FrequencySetting, setup: Setup) => atRatedVoltage(setup, 0, { frequency: 1 }),
  healthyLevel: (_setting: FrequencySetting, { frequency }: Setup) => frequency,
  practice: {
    around: { difference: 0.1 },
    beyond: { difference: 0.5 },
    multiples: [],
    measuringCycles: 8,
    dropout: { difference: 0.05 },
  },
} as const;

/** 81O: overfrequency. */
export const overfrequency: Definition<FrequencySetting> = {
  ...common,
  function: "81O",
  title: "overfrequency",
  side: "over",
  source: "IEEE C37.2 device function 81; IEC 60255-181",
  read: reader("over"),
};

/** 81U: underfrequency. */
export const underfrequency: Definition<FrequencySetting> = {
  ...common,
  function: "81U",
  title: "underfrequency",
  side: "under",
  source: "IEEE C37.2 device function 81; IEC 60255-181",
  read: reader("under"),
};

/** The rate in the direction that is watched; what moves the other way is none. */
function rateIn({ direction }: FrequencyRateSetting, rate: number): number {
  if (direction === "both") return Math.abs(rate);
  return Math.max(0, direction === "rising" ? rate : -rate);
}

/** From the frequency of the system on; one of both directions is shown the falling one. */
function moving(direction: FrequencyRateSetting["direction"], setup: Setup): Answer<Pose, string> {
  const pose = atRatedVoltage(setup, setup.frequency, { frequencyRate: direction === "rising" ? 1 : -1 });
  if (pose.kind === "none" || direction !== "both") return pose;
  return { ...pose, note: "a falling frequency; that it operates for a rising one too is not shown" };
}

/** Clearly beyond the setting, as the time is measured. */
const BEYOND = 1.5;

/** 81R: rate of change of frequency. Each injection starts at the frequency of the system. */
export const frequencyRate: Definition<FrequencyRateSetting> = {
  function: "81R",
  title: "rate of change of frequency",
  unit: "Hz/s",
  side: "over",
  source: "IEEE C37.2 device function 81; IEC 60255-181",
  watches: ["frequency-rate"],
  fields: ["direction", "blockBelow"],
  system: [],
  laws: ["definite"],
  practice: {
    around: { ratio: 0.2 },
    beyond: { ratio: BEYOND - 1 },
    multiples: [],
    measuringCycles: 10,
    dropout: { ratio: 0.9 },
    fromRest: true,
  },
  read: (inputs, setting) => {
    const { volts, state } = measuredVoltage(inputs);
    return observe(rateIn(setting, state?.frequencyRate ?? 0), setting, "over", {
      blocked: state === undefined || volts < (setting.blockBelow ?? 0),
    });
  },
  pose: ({ direction }, setup) => moving(direction, setup),
  stills: ({ direction, pickup }, setup) => {
    if (direction === "both") return [];
    const other = direction === "rising" ? "falling" : "rising";
    const why = `a ${other} frequency at ${BEYOND} × the setting`;
    return [{ name: other, level: BEYOND * pickup, why, pose: moving(other, setup) }];
  },
  healthyLevel: () => 0,
};
