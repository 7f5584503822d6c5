import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import { byRms } from "./poses.js";
import type { UndercurrentSetting } from "./setting.js";
import { currentsInSeries } from "./setup.js";
import { phaseCurrents } from "./watched.js";

/** 37: undercurrent. */
export const undercurrent: Definition<UndercurrentSetting> = {
  function: "37",
  title: "undercurrent",
  unit: "A",
  side: "under",
  source: "IEEE C37.2 device function 37; IEC 60255-151",
  watches: ["phase"],
  fields: ["phases", "blockBelow", "armAbove"],
  system: [],
  laws: ["definite"],
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [],
    measuringCycles: 2,
    dropout: { ratio: 1.05 },
  },
  read: (inputs, setting) => {
    const amperes = phaseCurrents(inputs);
    const [lowest, highest] = [Math.min(...amperes), Math.max(...amperes)];
    return observe(setting.phases === "any" ? lowest : highest, setting, "under", {
      blocked: highest < (setting.blockBelow ?? 0),
      arms: lowest > (setting.armAbove ?? Number.NEGATIVE_INFINITY),
    });
  },
  pose: (_setting, setup) =>
    setup.currentChannels === 3
      ? byRms(currentsInSeries(setup, 0), 1)
      : byRms(currentsInSeries(setup, 0), 1, "one current through all three inputs in series"),
  // A load well above the setting: without one the function operates on every dead feeder.
  healthyLevel: ({ pickup, armAbove = 0 }, { ratedCurrent = 0 }) =>
    Math.max(ratedCurrent, 1.5 * pickup, 1.1 * armAbove),
};
