/** The zone of a distance function: how far out an impedance lies in it, and where its boundary runs. */
import { above, fail, finite, nameIn, object, options } from "../base/check.js";
import { sinDegrees } from "../base/degrees.js";
import { retold, within } from "../base/input-error.js";
import { printed } from "../base/problem.js";
import type { Degrees, Ohms } from "../base/units.js";
import {
  type Mho,
  mho,
  mhoShare,
  type Quadrilateral,
  quadrilateral,
  quadrilateralShare,
  type Region,
} from "../characteristic/index.js";
import { negate, type Phasor, polar } from "../phasor/index.js";
import type { DistanceZone } from "./distance-setting.js";
import type { DistanceSetting } from "./setting.js";

type Kind<F extends DistanceZone["form"]> = Extract<DistanceZone, { form: F }>;

const mhoOf = ({ lineAngle, reverseRatio = 0 }: Kind<"mho">, reach: Ohms): Mho => ({
  reach,
  angle: lineAngle,
  reverse: reverseRatio * reach,
});

const quadrilateralOf = (zone: Kind<"quadrilateral">, reach: Ohms): Quadrilateral => {
  const { lineAngle, resistanceRatio, tilt, blinderAngle, forward } = zone;
  return {
    reactance: reach * sinDegrees(lineAngle),
    resistance: resistanceRatio * reach,
    lineAngle,
    ...(tilt !== undefined && { tilt }),
    ...(blinderAngle !== undefined && { blinderAngle }),
    forward,
  };
};

/** Seen the way in which the zone looks. */
const asForward = (impedance: Phasor, { operates }: DistanceSetting): Phasor =>
  operates === "forward" ? impedance : negate(impedance);

/**
 * The reach with which a zone of this shape would have an impedance just on its boundary: the impedance itself on the line
 * angle, `Infinity` at angles at which the zone is not met. It does not depend on the reach that is set.
 */
export function reachTo(impedance: Phasor, setting: DistanceSetting): Ohms {
  const { zone } = setting;
  const seen = asForward(impedance, setting);
  return zone.form === "mho" ? mhoShare(mhoOf(zone, 1), seen) : quadrilateralShare(quadrilateralOf(zone, 1), seen);
}

/** How far the zone reaches along an angle of the impedance; 0 where it is not met. */
export const reachAlong = (angle: Degrees, setting: DistanceSetting): Ohms =>
  setting.pickup / reachTo(polar(1, angle), setting);

/** The angle of the impedances at which the reach is counted: behind the relay for a zone that looks there. */
export const reachAngle = ({ zone, operates }: DistanceSetting): Degrees =>
  operates === "forward" ? zone.lineAngle : zone.lineAngle + 180;

/** Whether a fault without any voltage lies inside, and not on the boundary, where there is nothing to decide with. */
export const holdsOrigin = ({ zone }: DistanceSetting): boolean => zone.form === "mho" && (zone.reverseRatio ?? 0) > 0;

/**
 * The zone of a distance function as a region of the impedance plane, in ohm at the relay.
 *
 * @throws A {@link InputError} for a zone that is none.
 * Accuracy: that of the circle or the corners.
 * @source geometry
 *
 * @example
 * import { distanceZone } from "tripwright/element";
 * const accuracy = { pickup: { percent: 5 }, time: { absolute: 0.04 } };
 * const law = { curve: { form: "definite", time: 0, side: "under" } } as const;
 * const zone = { form: "mho", lineAngle: 90 } as const;
 * distanceZone({ id: "21-1", function: "21", watches: "phase-loops", pickup: 4, zone, operates: "forward", law, measuringDelay: 0.03, contact: "trip", accuracy }); // → { form: "circle", center: { x: 0, y: 2 }, radius: 2 }
 */
export function distanceZone(setting: DistanceSetting): Region {
  const { zone, pickup, operates } = object(setting, "", "the settings of a distance function");
  within("zone", () => checkDistanceZone(object(zone, "", "a distance zone { form, lineAngle }")));
  above(pickup, 0, "pickup", "a reach", "ohm");
  nameIn(operates, { forward: true, reverse: true }, "operates");
  const forward = zone.form === "mho" ? mho(mhoOf(zone, pickup)) : quadrilateral(quadrilateralOf(zone, pickup));
  if (operates === "forward") return forward;
  const turned = ({ x, y }: { readonly x: number; readonly y: number }) => ({ x: -x + 0, y: -y + 0 });
  return forward.form === "circle"
    ? { ...forward, center: turned(forward.center) }
    : { ...forward, corners: forward.corners.map(turned) };
}

/** What refuses a shape as a whole has seen the reactance and resistance of it; what came are the ratios. */
const asGiven = <T>(zone: DistanceZone, work: () => T): T =>
  retold((problem) => (problem.path === "" ? { ...problem, received: printed(zone) } : problem), work);

const FIELDS = {
  mho: ["form", "lineAngle", "reverseRatio"],
  quadrilateral: ["form", "lineAngle", "resistanceRatio", "tilt", "blinderAngle", "forward"],
} as const;

/** Checks a zone: its shape, and that it reaches along the line angle as far as it is said to. */
export function checkDistanceZone(zone: DistanceZone): void {
  options(zone, FIELDS[nameIn(zone.form, FIELDS, "form")]);
  const { lineAngle } = zone;
  finite(lineAngle, "lineAngle", "an angle in degrees");
  if (!(lineAngle > 0 && lineAngle < 180)) fail("out-of-range", "lineAngle", "an angle between 0° and 180°", lineAngle);
  if (zone.form === "mho") {
    const { reverseRatio = 0 } = zone;
    if (!(reverseRatio >= 0 && Number.isFinite(reverseRatio)))
      fail("out-of-range", "reverseRatio", "a ratio to the reach, 0 or more", reverseRatio);
    return;
  }
  above(zone.resistanceRatio, 0, "resistanceRatio", "a ratio to the reach");
  const shape = quadrilateralOf(zone, 1);
  const share = asGiven(zone, () => quadrilateralShare(shape, polar(1, lineAngle)));
  if (share > 1 + 1e-9)
    fail("conflict", "blinderAngle", "a right blinder that leaves the reach along the line angle in the zone", zone);
}
