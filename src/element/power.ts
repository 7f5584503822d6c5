import { eachChannel } from "../base/sequence.js";
import { complexPower } from "../phasor/index.js";
import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import type { PowerSetting } from "./setting.js";
import { currents, type Setup, single, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";
import { phasesSeen } from "./watched.js";

/**
 * Currents in phase with their voltages, or against them. On one channel of each quantity a phase carries all of the power.
 * A degree between voltage and current costs the sine of the angle beside it: nothing here, everything near 90°.
 */
function pose({ operates }: PowerSetting, setup: Setup) {
  const { ratedVoltage, voltageChannels, currentChannels } = setup;
  if (ratedVoltage === undefined)
    return { kind: "none", reason: "no rated voltage is given to make power with" } as const;
  const toNeutral = ratedVoltage / SQRT3;
  const isWhole = voltageChannels === 3 && currentChannels === 3;
  const v =
    voltageChannels === 3 ? voltagesToNeutral(setup, toNeutral) : single(setup, "voltage", toNeutral, { va: 1 });
  const i = isWhole ? currents(setup, 0) : single(setup, "current", 0, { ia: 1 });
  const perWatt = 1 / (toNeutral * (isWhole ? 3 : 1));
  const turn = operates === "forward" ? 0 : 180;
  const turned = eachChannel(i.states, (state) => ({ ...state, angle: (state.angle ?? 0) + turn }));
  return {
    kind: "found",
    base: { ...v.states, ...turned },
    lever: eachChannel(turned, () => ({ rms: perWatt })),
    wiring: { ...v.wiring, ...i.wiring },
    note: isWhole ? "rated voltage, a third of the power in each phase" : "rated voltage, all of the power in phase a",
  } as const;
}

/** 32: active power of three phases. */
export const activePower: Definition<PowerSetting> = {
  function: "32",
  title: "directional power",
  unit: "W",
  side: "over",
  source: "IEEE C37.2 device function 32",
  watches: ["active-power"],
  fields: ["operates"],
  system: [],
  laws: ["definite"],
  instantaneous: true,
  relates: true,
  read: (inputs, setting) => {
    const { active } = complexPower(phasesSeen(inputs, "v"), phasesSeen(inputs, "i"));
    return observe(setting.operates === "forward" ? active : 0 - active, setting, "over");
  },
  pose,
  stills: (setting, setup) => {
    const behind = setting.operates === "forward" ? "reverse" : "forward";
    const opposite = pose({ ...setting, operates: behind }, setup);
    return [{ name: behind, level: 2 * setting.pickup, why: `a ${behind} power of 2 × the setting`, pose: opposite }];
  },
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.5 },
    multiples: [],
    measuringCycles: 4,
    dropout: { ratio: 0.95 },
  },
};
