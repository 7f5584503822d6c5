import type { Answer } from "../base/answer.js";
import { nameIn } from "../base/check.js";
import type { Definition, Observation, Pose } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import type { FrequencySetting } from "./setting.js";
import { type Setup, voltagesToNeutral } from "./setup.js";
import { checkBlockBelow, PHASES, phaseVoltages } from "./voltage.js";

/** Measured on the highest phase; without any voltage there is no frequency, so the function is blocked then too. */
function reader(side: "over" | "under") {
  return (inputs: RelayInputs, setting: FrequencySetting): Observation => {
    const volts = phaseVoltages(inputs);
    const highest = Math.max(...volts);
    const frequency = inputs[PHASES[volts.indexOf(highest)] as string]?.frequency ?? 0;
    return observe(frequency, setting, side, highest === 0 || highest < (setting.blockBelow ?? 0));
  };
}

function pose(_setting: FrequencySetting, setup: Setup): Answer<Pose, string> {
  if (setup.ratedVoltage === undefined)
    return { kind: "none", reason: "no rated voltage is given to inject the frequency at" };
  const { states, wiring } = voltagesToNeutral(setup, setup.ratedVoltage / Math.sqrt(3));
  const base = Object.fromEntries(
    Object.entries(states).map(([channel, state]) => [channel, { ...state, frequency: 0 }]),
  );
  const lever = Object.fromEntries(Object.keys(states).map((channel) => [channel, { frequency: 1 }]));
  return { kind: "found", base, lever, wiring };
}

const common = {
  unit: "Hz",
  pose,
  check: ({ watches, blockBelow }: FrequencySetting) => {
    nameIn(watches, { frequency: true }, "watches");
    checkBlockBelow(blockBelow);
  },
  healthyLevel: (_setting: FrequencySetting, { frequency }: Setup) => frequency,
  practice: { around: { difference: 0.1 }, beyond: { difference: 0.5 }, multiples: [], measuringCycles: 8 },
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
