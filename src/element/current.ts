import { nameIn } from "../base/check.js";
import { magnitude } from "../phasor/index.js";
import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import type { CurrentSetting } from "./setting.js";
import { currents, type Setup } from "./setup.js";

const NOTHING = { re: 0, im: 0 };

function largestPhase(inputs: RelayInputs): number {
  return Math.max(...["ia", "ib", "ic"].map((input) => magnitude(inputs[input] ?? NOTHING)));
}

function pose(_setting: CurrentSetting, setup: Setup) {
  const { states, wiring } = currents(setup, 0);
  const lever = Object.fromEntries(Object.keys(states).map((channel) => [channel, { rms: 1 }]));
  return { kind: "found", base: states, lever, wiring } as const;
}

const common = {
  unit: "A",
  side: "over",
  read: (inputs: RelayInputs, setting: CurrentSetting) => observe(largestPhase(inputs), setting, "over"),
  pose,
  check: ({ watches }: CurrentSetting) => void nameIn(watches, { phase: true }, "watches"),
  healthyLevel: () => 0,
  practice: { around: { ratio: 0.1 }, beyond: { ratio: 0.2 }, multiples: [3, 7, 15], measuringCycles: 2 },
} as const;

/** 50: instantaneous overcurrent. */
export const instantaneousOvercurrent: Definition<CurrentSetting> = {
  ...common,
  function: "50",
  title: "instantaneous overcurrent",
  source: "IEEE C37.2 device function 50; IEC 60255-151",
};

/** 51: time overcurrent. */
export const timeOvercurrent: Definition<CurrentSetting> = {
  ...common,
  function: "51",
  title: "time overcurrent",
  source: "IEEE C37.2 device function 51; IEC 60255-151",
};
