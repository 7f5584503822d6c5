import type { Definition, Edge } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import { byRms, negativeSequenceCurrent } from "./poses.js";
import type { ThermalSetting } from "./setting.js";
import { currents, type Setup } from "./setup.js";
import { phaseCurrents, sequences } from "./watched.js";

/** The current that heats: the largest phase current, or √(I1² + q·I2²). */
function heatingCurrent(
  inputs: RelayInputs,
  { watches, negativeSequenceFactor = 1, rotation }: ThermalSetting,
): number {
  if (watches === "phase") return Math.max(...phaseCurrents(inputs));
  const { positive, negative } = sequences(inputs, "i", rotation);
  return Math.sqrt(positive * positive + negativeSequenceFactor * negative * negative);
}

/**
 * Where the negative sequence alone starts it, which shows how much more that heats: q·I2² = pickup². On one channel every
 * injection is as much I1 as I2, and tells q and pickup together.
 */
function edges(
  { watches, negativeSequenceFactor = 1, rotation, pickup, law: { startRatio = 1 } }: ThermalSetting,
  setup: Setup,
): Edge[] {
  if (watches === "phase" || negativeSequenceFactor === 0 || setup.currentChannels === 1) return [];
  const at = Number(((startRatio * pickup) / Math.sqrt(negativeSequenceFactor)).toPrecision(6));
  const pose = negativeSequenceCurrent({ ...setup, rotation }, 1);
  return [{ name: "negative-sequence", unit: "A", side: "over", at, around: { ratio: 0.1 }, heldTo: "pickup", pose }];
}

/** 49: thermal overload. One phase alone is I1 = I2 = I/3, so that an image of a motor sees √(1 + q)/3 of it. */
export const thermalOverload: Definition<ThermalSetting> = {
  function: "49",
  title: "thermal overload",
  unit: "A",
  side: "over",
  source: "IEEE C37.2 device function 49; IEC 60255-149",
  watches: ["phase", "I1-and-I2"],
  fields: ["negativeSequenceFactor"],
  system: ["rotation"],
  laws: ["thermal"],
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [1.5, 2, 4],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
  read: (inputs, setting) => observe(heatingCurrent(inputs, setting), setting, "over"),
  pose: ({ watches, negativeSequenceFactor = 1, rotation }, setup) => {
    if (watches === "phase" || setup.currentChannels === 3) return byRms(currents({ ...setup, rotation }, 0), 1);
    const share = 3 / Math.sqrt(1 + negativeSequenceFactor);
    return byRms(currents(setup, 0), share, "one phase: I1 = I2 = I/3, so that √(I1² + q·I2²) = I·√(1 + q)/3");
  },
  edges,
  healthyLevel: () => 0,
};
