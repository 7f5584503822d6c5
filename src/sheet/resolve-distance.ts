/** What a distance zone has of its own, from typed values to settings at the relay. */
import { fail } from "../base/check.js";
import { type Decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { readQuantity } from "../base/quantity.js";
import type { Degrees, Ohms } from "../base/units.js";
import { earthFactor } from "../characteristic/index.js";
import type { DistanceZone, EarthReturn } from "../element/index.js";
import { type Phasor, polar } from "../phasor/index.js";
import type { TypedEarth, TypedImpedance, TypedZone } from "./sheet-distance.js";
import type { Typed } from "./typed.js";

const degrees = (typed: Typed, path: string): Degrees => toNumber(readQuantity(typed, "angle", path), path);
const ohms = (typed: Typed, path: string): Ohms => toNumber(readQuantity(typed, "impedance", path), path);

/** A resistance of the zone over its reach: both stand on one side of the transformers, so that none comes in. */
function overReach(typed: Typed, path: string, reach: Typed): number {
  const value: Decimal = readQuantity(typed, "impedance", path);
  if (!value.gt(0)) fail("out-of-range", path, "an impedance above 0", typed);
  const whole = readQuantity(reach, "impedance", "pickup");
  // A reach that is not above 0 is told where it stands.
  return whole.gt(0) ? toNumber(value.div(whole), path) : 1;
}

/** The shape of a zone; the reach is the pickup of its element. */
export function distanceZoneOf(typed: TypedZone, reach: Typed): DistanceZone {
  const { form } = typed;
  const lineAngle = degrees(typed.lineAngle, "zone.lineAngle");
  if (form === "mho") {
    const { reverse } = typed;
    return {
      form,
      lineAngle,
      ...(reverse !== undefined && { reverseRatio: overReach(reverse, "zone.reverse", reach) }),
    };
  }
  const { resistance, tilt, blinderAngle, forward } = typed;
  return {
    form,
    lineAngle,
    resistanceRatio: overReach(resistance, "zone.resistance", reach),
    ...(tilt !== undefined && { tilt: degrees(tilt, "zone.tilt") }),
    ...(blinderAngle !== undefined && { blinderAngle: degrees(blinderAngle, "zone.blinderAngle") }),
    forward: { from: degrees(forward.from, "zone.forward.from"), to: degrees(forward.to, "zone.forward.to") },
  };
}

/** The earth return; k0 of a line is the same on both sides of the transformers. */
export function earthOf(typed: TypedEarth): EarthReturn {
  if ("resistanceRatio" in typed) return typed;
  if ("factor" in typed) {
    const { factor, angle = 0 } = typed;
    if (!(factor >= 0)) fail("out-of-range", "earth.factor", "the size of k0, 0 or more", factor);
    return { factor: polar(factor, degrees(angle, "earth.angle")) };
  }
  const [z1, z0] = [impedanceOf(typed.z1, "earth.z1"), impedanceOf(typed.z0, "earth.z0")];
  if (z1.re === 0 && z1.im === 0) fail("out-of-range", "earth.z1", "an impedance other than 0", typed.z1);
  return { factor: within("earth", () => earthFactor({ z1, z0 })) };
}

function impedanceOf(typed: TypedImpedance, path: string): Phasor {
  if ("resistance" in typed)
    return { re: ohms(typed.resistance, `${path}.resistance`), im: ohms(typed.reactance, `${path}.reactance`) };
  const size = ohms(typed.size, `${path}.size`);
  if (size < 0) fail("out-of-range", `${path}.size`, "a size of 0 ohm or more", typed.size);
  return polar(size, degrees(typed.angle, `${path}.angle`));
}
