/** 67, 67N: a current that counts only from one side. */
import { fail } from "../base/check.js";
import type { Definition } from "./definition.js";
import { edges, stills } from "./directional-edges.js";
import { bySize } from "./directional-poses.js";
import { middleOf, read } from "./directional-read.js";
import type { DirectionalSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** Which polarising quantities go with what is watched. */
const POLARISED: Readonly<Record<DirectionalSetting["watches"], readonly DirectionalSetting["polarising"][]>> = {
  phase: ["self", "quadrature"],
  "negative-sequence": ["-V2"],
  residual: ["-3V0", "3V0"],
};

function checkPolarising({ watches, polarising }: DirectionalSetting): void {
  const known = POLARISED[watches];
  if (!known.includes(polarising)) fail("conflict", "polarising", `${known.join(" or ")} for ${watches}`, polarising);
}

const common = {
  unit: "A",
  side: "over",
  fields: ["polarising", "characteristicAngle", "leading", "lagging", "operates", "measures", "minimumVoltage"],
  system: ["rotation"],
  laws: ["definite", "inverse", "table"],
  instantaneous: true,
  relates: true,
  check: checkPolarising,
  heldTo: () => ["angle"] as const,
  read,
  pose: (setting: DirectionalSetting, setup: Setup) => bySize(setting, setup, middleOf(setting)),
  edges,
  stills,
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [3, 7, 15],
    measuringCycles: 3,
    dropout: { ratio: 0.95 },
  },
} as const;

/** 67: directional overcurrent of the phases or of the negative sequence. */
export const directionalOvercurrent: Definition<DirectionalSetting> = {
  ...common,
  watches: ["phase", "negative-sequence"],
  function: "67",
  title: "directional overcurrent",
  source: "IEEE C37.2 device function 67; characteristic angle as common practice counts it",
};

/** 67N: directional overcurrent of the residual current. */
export const directionalEarthFault: Definition<DirectionalSetting> = {
  ...common,
  watches: ["residual"],
  function: "67N",
  title: "directional residual overcurrent",
  source: "IEEE C37.2 device function 67, suffix N; characteristic angle as common practice counts it",
};
