import type { Answer } from "../base/answer.js";
import type { Definition, Observation, Pose } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import { byRms, openDeltaVoltage, voltageLineToLine, zeroSequenceVoltage } from "./poses.js";
import type { ResidualVoltageSetting, VoltageSetting } from "./setting.js";
import { type Setup, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";
import { magnitudeOn, residual, voltagesOf } from "./watched.js";

/** The phase that decides: for an over function of any phase the highest, of all phases the lowest; under: the reverse. */
function reader(side: "over" | "under") {
  return (inputs: RelayInputs, setting: VoltageSetting): Observation => {
    const watched = voltagesOf(inputs, setting.watches);
    const [lowest, highest] = [Math.min(...watched), Math.max(...watched)];
    const decides = (side === "over") === (setting.phases === "any") ? highest : lowest;
    return observe(decides, setting, side, {
      blocked: highest < (setting.blockBelow ?? 0),
      arms: lowest > (setting.armAbove ?? Number.NEGATIVE_INFINITY),
    });
  };
}

function poser(side: "over" | "under") {
  return ({ watches, phases }: VoltageSetting, setup: Setup): Answer<Pose, string> => {
    if (watches === "line-to-neutral") return byRms(voltagesToNeutral(setup, 0), 1);
    if (setup.voltageChannels === 3) return byRms(voltagesToNeutral(setup, 0), 1 / SQRT3);
    // From line a to line b, the other two line voltages are half of what is injected.
    if ((side === "over") === (phases === "any")) return voltageLineToLine(setup);
    return {
      kind: "none",
      reason: `with one voltage channel the other two line-to-line voltages are half the injected one, and ${
        side === "under"
          ? "an undervoltage function of any phase answers to those"
          : "an overvoltage function of all phases waits for those"
      }; three voltage channels are needed`,
    };
  };
}

const common = {
  unit: "V",
  watches: ["line-to-line", "line-to-neutral"],
  system: [],
  healthyLevel: ({ watches }: VoltageSetting, { ratedVoltage = 0 }: Setup) =>
    watches === "line-to-line" ? ratedVoltage : ratedVoltage / SQRT3,
} as const;

/** 27: undervoltage. */
export const undervoltage: Definition<VoltageSetting> = {
  ...common,
  function: "27",
  title: "undervoltage",
  side: "under",
  source: "IEEE C37.2 device function 27; IEC 60255-127",
  fields: ["phases", "blockBelow", "armAbove"],
  laws: ["definite", "under"],
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [0.8, 0.5, 0.2],
    measuringCycles: 2,
    dropout: { ratio: 1.05 },
  },
  read: reader("under"),
  pose: poser("under"),
};

/** 59: overvoltage. */
export const overvoltage: Definition<VoltageSetting> = {
  ...common,
  function: "59",
  title: "overvoltage",
  side: "over",
  source: "IEEE C37.2 device function 59; IEC 60255-127",
  fields: ["phases", "blockBelow"],
  laws: ["definite", "inverse", "table"],
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [1.1, 1.2, 1.4],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
  read: reader("over"),
  pose: poser("over"),
};

/** 59N: residual overvoltage. Three equal voltages in phase are all zero sequence. */
export const residualOvervoltage: Definition<ResidualVoltageSetting> = {
  function: "59N",
  title: "residual overvoltage",
  unit: "V",
  side: "over",
  source: "IEEE C37.2 device function 59, suffix N; IEC 60255-127",
  watches: ["V0", "3V0", "open-delta"],
  fields: [],
  system: [],
  laws: ["definite", "inverse", "table"],
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [1.2, 1.5, 2],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
  read: (inputs, setting) => {
    if (setting.watches === "open-delta") return observe(magnitudeOn(inputs, "vn"), setting, "over");
    const threeTimes = residual(inputs, "v");
    return observe(setting.watches === "3V0" ? threeTimes : threeTimes / 3, setting, "over");
  },
  pose: ({ watches }, setup) =>
    watches === "open-delta" ? openDeltaVoltage(setup) : zeroSequenceVoltage(setup, watches === "3V0" ? 1 / 3 : 1),
  healthyLevel: () => 0,
};
