import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import { byRms, voltageLineToLine } from "./poses.js";
import type { VoltsPerHertzSetting } from "./setting.js";
import { voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";
import { measuredVoltage, voltagesOf } from "./watched.js";

/** 24: volts per hertz: (V/rated V)/(f/rated f), of the largest voltage. Without any voltage there is no flux. */
export const voltsPerHertz: Definition<VoltsPerHertzSetting> = {
  function: "24",
  title: "volts per hertz (overexcitation)",
  unit: "1",
  side: "over",
  source: "IEEE C37.2 device function 24; IEEE C37.102",
  watches: ["line-to-line", "line-to-neutral"],
  fields: [],
  system: ["ratedVoltage", "ratedFrequency"],
  laws: ["definite", "excess", "inverse", "table"],
  practice: {
    around: { ratio: 0.05 },
    beyond: { ratio: 0.05 },
    multiples: [1.05, 1.1, 1.2],
    measuringCycles: 4,
    dropout: { ratio: 0.98 },
  },
  read: (inputs, setting) => {
    const frequency = measuredVoltage(inputs).state?.frequency ?? 0;
    const volts = Math.max(...voltagesOf(inputs, setting.watches));
    const quantity = frequency === 0 ? 0 : (volts * setting.ratedFrequency) / (frequency * setting.ratedVoltage);
    return observe(quantity, setting, "over", { blocked: frequency === 0 });
  },
  pose: ({ watches, ratedVoltage, ratedFrequency }, setup) => {
    // At the frequency of the system, so that voltage alone moves.
    const volts = (ratedVoltage * setup.frequency) / ratedFrequency;
    if (watches === "line-to-neutral") return byRms(voltagesToNeutral(setup, 0), volts);
    if (setup.voltageChannels === 3) return byRms(voltagesToNeutral(setup, 0), volts / SQRT3);
    const { base, wiring } = voltageLineToLine(setup);
    return byRms({ states: base, wiring }, volts);
  },
  healthyLevel: ({ ratedFrequency }, { frequency }) => ratedFrequency / frequency,
};
