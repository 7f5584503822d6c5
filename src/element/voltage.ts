import type { Answer } from "../base/answer.js";
import { atLeast, nameIn } from "../base/check.js";
import { magnitude, subtract } from "../phasor/index.js";
import type { Definition, Observation, Pose } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import type { VoltageSetting } from "./setting.js";
import { type Bench, type Setup, voltageLineToLine, voltagesToNeutral } from "./setup.js";

const NOTHING = { re: 0, im: 0 };
const SQRT3 = Math.sqrt(3);

/** The voltage inputs of a relay. */
export const PHASES = ["va", "vb", "vc"] as const;

/** The voltages to neutral of a relay's three inputs; one that is not fed reads 0 V. */
export function phaseVoltages(inputs: RelayInputs): number[] {
  return PHASES.map((input) => magnitude(inputs[input] ?? NOTHING));
}

function lineVoltages(inputs: RelayInputs): number[] {
  const [a, b, c] = PHASES.map((input) => inputs[input] ?? NOTHING) as [typeof NOTHING, typeof NOTHING, typeof NOTHING];
  return [subtract(a, b), subtract(b, c), subtract(c, a)].map(magnitude);
}

function check({ watches, phases, blockBelow }: VoltageSetting): void {
  nameIn(watches, { "line-to-line": true, "line-to-neutral": true }, "watches");
  nameIn(phases, { any: true, all: true }, "phases");
  checkBlockBelow(blockBelow);
}

/** A voltage below which a function is blocked, where there is one. */
export function checkBlockBelow(blockBelow: number | undefined): void {
  if (blockBelow !== undefined) atLeast(blockBelow, 0, "blockBelow", "a voltage", "V");
}

/** The phase that decides: for an over function of any phase the highest, of all phases the lowest; under: the reverse. */
function reader(side: "over" | "under") {
  return (inputs: RelayInputs, setting: VoltageSetting): Observation => {
    const watched = setting.watches === "line-to-line" ? lineVoltages(inputs) : phaseVoltages(inputs);
    const highest = (side === "over") === (setting.phases === "any");
    const quantity = highest ? Math.max(...watched) : Math.min(...watched);
    return observe(quantity, setting, side, Math.max(...watched) < (setting.blockBelow ?? 0));
  };
}

function poser(side: "over" | "under") {
  return ({ watches, phases }: VoltageSetting, setup: Setup): Answer<Pose, string> => {
    if (watches === "line-to-neutral") return posed(voltagesToNeutral(setup, 0), 1);
    if (setup.voltageChannels === 3) return posed(voltagesToNeutral(setup, 0), 1 / SQRT3);
    // From line a to line b, the other two line voltages are half of what is injected.
    if ((side === "over") === (phases === "any")) return posed(voltageLineToLine(setup, 0), 1);
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

function posed({ states, wiring }: Bench, perLevel: number): Answer<Pose, string> {
  const lever = Object.fromEntries(Object.keys(states).map((channel) => [channel, { rms: perLevel }]));
  return { kind: "found", base: states, lever, wiring };
}

function healthyLevel({ watches }: VoltageSetting, { ratedVoltage = 0 }: Setup): number {
  return watches === "line-to-line" ? ratedVoltage : ratedVoltage / SQRT3;
}

/** 27: undervoltage. */
export const undervoltage: Definition<VoltageSetting> = {
  function: "27",
  title: "undervoltage",
  unit: "V",
  side: "under",
  source: "IEEE C37.2 device function 27; IEC 60255-127",
  practice: { around: { ratio: 0.1 }, beyond: { ratio: 0.2 }, multiples: [0.8, 0.5, 0.2], measuringCycles: 2 },
  check,
  read: reader("under"),
  pose: poser("under"),
  healthyLevel,
};

/** 59: overvoltage. */
export const overvoltage: Definition<VoltageSetting> = {
  function: "59",
  title: "overvoltage",
  unit: "V",
  side: "over",
  source: "IEEE C37.2 device function 59; IEC 60255-127",
  practice: { around: { ratio: 0.1 }, beyond: { ratio: 0.2 }, multiples: [1.1, 1.2, 1.4], measuringCycles: 2 },
  check,
  read: reader("over"),
  pose: poser("over"),
  healthyLevel,
};
