import { sideAlone } from "./both-sides.js";
import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import { checkLevelStart } from "./differential.js";
import { secondSide, throughFault } from "./differential-places.js";
import type { Zone } from "./differential-setting.js";
import { comparedOn, differentialOf, type SideName } from "./differential-zone.js";
import { byRms, turnedOff } from "./poses.js";
import type { UnrestrainedDifferentialSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** One side alone; the level is the differential current. */
function fromOneSide(side: SideName, zone: Zone, setup: Setup) {
  const { bench, counts, note } = sideAlone(side, zone, setup);
  return byRms(turnedOff(bench), 1 / counts, note);
}

/** 87U: the differential current alone, whatever restrains or blocks the other stage. */
export const unrestrainedDifferential: Definition<UnrestrainedDifferentialSetting> = {
  function: "87U",
  title: "unrestrained differential",
  unit: "A",
  side: "over",
  source: "IEEE C37.2 device function 87, letter U for unrestrained: common practice",
  watches: ["differential"],
  fields: [],
  system: ["zone"],
  laws: ["definite"],
  instantaneous: true,
  check: checkLevelStart,
  read: (inputs, setting) =>
    observe(Math.max(...comparedOn(inputs, setting.zone).map(differentialOf)), setting, "over"),
  pose: ({ zone }, setup) => fromOneSide("first", zone, setup),
  edges: ({ zone, pickup }, setup) => [secondSide(pickup, fromOneSide("second", zone, setup))],
  // More through it than it takes to operate it from one side.
  stills: ({ zone, pickup }, setup) => [throughFault(zone, setup, 1.2 * pickup)],
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
};
