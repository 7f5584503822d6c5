import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import { negativeSequenceCurrent, negativeSequenceVoltage } from "./poses.js";
import type { NegativeSequenceCurrentSetting, NegativeSequenceVoltageSetting } from "./setting.js";
import { sequences } from "./watched.js";

const common = {
  side: "over",
  fields: [],
  system: ["rotation"],
  healthyLevel: () => 0,
} as const;

const practice = {
  around: { ratio: 0.1 },
  beyond: { ratio: 0.2 },
  multiples: [2, 4, 8],
  measuringCycles: 3,
  dropout: { ratio: 0.95 },
} as const;

/**
 * 46: negative-sequence current. A current on one phase alone holds I/3 of it; out on one phase and back on another,
 * I/√3 and no residual.
 */
export const negativeSequenceOvercurrent: Definition<NegativeSequenceCurrentSetting> = {
  ...common,
  function: "46",
  title: "negative-sequence overcurrent",
  unit: "A",
  source: "IEEE C37.2 device function 46; C. L. Fortescue, Trans. AIEE 37 (1918)",
  watches: ["I2", "3I2"],
  laws: ["definite", "inverse", "energy", "table"],
  practice,
  read: (inputs, setting) => {
    const { negative } = sequences(inputs, "i", setting.rotation);
    return observe(setting.watches === "3I2" ? 3 * negative : negative, setting, "over");
  },
  pose: ({ watches, rotation }, setup) =>
    negativeSequenceCurrent({ ...setup, rotation }, watches === "3I2" ? 1 / 3 : 1),
};

/** 47: negative-sequence overvoltage; a reversed rotation is all negative sequence. */
export const negativeSequenceOvervoltage: Definition<NegativeSequenceVoltageSetting> = {
  ...common,
  function: "47",
  title: "negative-sequence overvoltage",
  unit: "V",
  source: "IEEE C37.2 device function 47; C. L. Fortescue, Trans. AIEE 37 (1918)",
  watches: ["V2"],
  laws: ["definite", "inverse", "table"],
  practice: { ...practice, multiples: [1.5, 2, 4] },
  read: (inputs, setting) => observe(sequences(inputs, "v", setting.rotation).negative, setting, "over"),
  pose: ({ rotation }, setup) => negativeSequenceVoltage({ ...setup, rotation }),
};
