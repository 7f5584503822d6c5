import { fail, finite, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Point } from "../characteristic/index.js";
import { add, magnitude } from "../phasor/index.js";
import type { Definition, Observation } from "./definition.js";
import { observe } from "./definition.js";
import { edges, stills } from "./distance-edges.js";
import { earthFactorOf, impedancesSeen, isToEarth, loopsOf } from "./distance-loops.js";
import { poseAlong } from "./distance-pose.js";
import type { EarthReturn } from "./distance-setting.js";
import { checkDistanceZone, distanceZone, holdsOrigin, reachAngle, reachTo } from "./distance-zone.js";
import type { RelayInputs } from "./inputs.js";
import type { DistanceSetting } from "./setting.js";

/** Settings reach no further than this many times: what lies beyond, or is not met at all, counts as that far away. */
const FAR = 1e9;

/**
 * The least reach with which a loop would lie on the boundary. Without a voltage there is no direction: only a zone around
 * the origin operates then.
 */
function read(inputs: RelayInputs, setting: DistanceSetting): Observation {
  const reaches = impedancesSeen(inputs, setting).map((impedance) => reachTo(impedance, setting));
  const decided = holdsOrigin(setting) ? reaches : reaches.filter((reach) => reach > 0);
  const blocked = decided.length === 0 && reaches.length > 0;
  return observe(blocked ? 0 : Math.min(...decided, FAR * setting.pickup), setting, "under", { blocked });
}

/** The impedance of the loop that is nearest to operating; one without any voltage decides nothing. */
function place(inputs: RelayInputs, setting: DistanceSetting): Point | undefined {
  const [nearest] = impedancesSeen(inputs, setting)
    .map((impedance) => ({ impedance, reach: reachTo(impedance, setting) }))
    .filter(({ reach }) => reach > 0)
    .toSorted((a, b) => a.reach - b.reach);
  return nearest && { x: nearest.impedance.re, y: nearest.impedance.im };
}

function check(setting: DistanceSetting): void {
  within("zone", () => checkDistanceZone(setting.zone));
  const { earth, watches } = setting;
  if (!loopsOf(setting).some(isToEarth)) {
    if (earth !== undefined) fail("not-applicable", "earth", `nothing, since ${watches} have no earth return`, earth);
    return;
  }
  if (earth === undefined)
    fail("missing", "earth", "the earth factor or the earth ratios, which the loops to earth need", earth);
  within("earth", () => checkEarth(earth as EarthReturn));
  if (magnitude(add({ re: 1, im: 0 }, earthFactorOf(setting))) < 1e-3)
    fail(
      "out-of-range",
      "earth",
      "an earth factor k0 with which a current of one phase counts: 1 + k0 is not 0",
      earth,
    );
}

function checkEarth(earth: EarthReturn): void {
  const { factor, resistanceRatio, reactanceRatio } = options(
    earth as { factor?: { re: number; im: number }; resistanceRatio?: number; reactanceRatio?: number },
    ["factor", "resistanceRatio", "reactanceRatio"],
  );
  if (factor !== undefined) {
    if (resistanceRatio !== undefined || reactanceRatio !== undefined)
      fail("conflict", "factor", "either a factor or ratios", factor);
    finite(options(factor, ["re", "im"], "factor").re, "factor.re", "a real part");
    finite(factor.im, "factor.im", "an imaginary part");
    return;
  }
  finite(resistanceRatio, "resistanceRatio", "RE/RL");
  finite(reactanceRatio, "reactanceRatio", "XE/XL");
}

/** 21: one zone of a distance relay. */
export const distance: Definition<DistanceSetting> = {
  function: "21",
  title: "distance",
  unit: "ohm",
  side: "under",
  source: "IEEE C37.2 device function 21; IEC 60255-121",
  watches: ["phase-loops", "earth-loops", "phase-and-earth-loops"],
  fields: ["operates", "zone", "earth", "minimumCurrent"],
  system: [],
  laws: ["definite"],
  instantaneous: true,
  relates: true,
  bends: true,
  check,
  // A mho has no lines between which it looks.
  heldTo: ({ zone }) => (zone.form === "quadrilateral" ? ["angle"] : []),
  edges,
  stills,
  read,
  plane: {
    axes: { x: { quantity: "Resistance", unit: "Ω secondary" }, y: { quantity: "Reactance", unit: "Ω secondary" } },
    equal: true,
    region: distanceZone,
    place,
  },
  pose: (setting, setup) => {
    const loop = loopsOf(setting)[0] ?? "ab";
    return poseAlong({ loop, angle: reachAngle(setting), at: setting.pickup }, setting, setup);
  },
  // No current, so that nothing is measured; the pose says which states that is.
  healthyLevel: ({ pickup }) => FAR * pickup,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.5 },
    nearer: [{ ratio: 0.35 }, { ratio: 0.25 }, { ratio: 0.15 }],
    inside: { ratio: 0.1 },
    multiples: [],
    measuringCycles: 2,
    dropout: { ratio: 1.05 },
  },
};
