/** The shapes of what a distance zone has of its own, for valibot. */
import * as v from "valibot";
import { number, typed } from "./typed-shape.js";

/** The shape of the zone. */
export const distanceZone = v.variant(
  "form",
  [
    v.strictObject({
      form: v.literal("mho"),
      lineAngle: typed("angle", "The angle along which the reach is counted"),
      reverse: v.optional(typed("impedance", "How far an offset mho reaches behind")),
    }),
    v.strictObject({
      form: v.literal("quadrilateral"),
      lineAngle: typed("angle", "The angle along which the reach is counted"),
      resistance: typed("impedance", "Where the right blinder meets the resistance axis"),
      tilt: v.optional(typed("angle", "How the reactance line is turned about the point that is reached")),
      blinderAngle: v.optional(typed("angle", "The direction of the right blinder")),
      forward: v.strictObject(
        {
          from: typed("angle", "The line through the origin at which forward begins"),
          to: typed("angle", "The line through the origin at which forward ends"),
        },
        'the limits of forward such as { "from": "-15°", "to": "115°" }',
      ),
    }),
  ],
  'a zone such as { "form": "mho", "lineAngle": "75°" }',
);

const impedance = v.union(
  [
    v.strictObject({
      resistance: typed("impedance", "The resistance"),
      reactance: typed("impedance", "The reactance"),
    }),
    v.strictObject({ size: typed("impedance", "The magnitude"), angle: typed("angle", "The angle") }),
  ],
  'an impedance such as { "size": "0.4 ohm", "angle": "75°" } or { "resistance", "reactance" }',
);

/** How the residual current enters the loops to earth. */
export const earth = v.union(
  [
    v.strictObject({ factor: number("The size of k0"), angle: v.optional(typed("angle", "The angle of k0")) }),
    v.strictObject({ z1: impedance, z0: impedance }),
    v.strictObject({ resistanceRatio: number("RE/RL"), reactanceRatio: number("XE/XL") }),
  ],
  'the earth return such as { "factor": 0.67, "angle": "-7.5°" }, { "z1", "z0" } or { "resistanceRatio", "reactanceRatio" }',
);
