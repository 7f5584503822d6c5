/** What a distance zone has of its own, as data. */
import type { Degrees } from "../base/units.js";
import type { Phasor } from "../phasor/index.js";

/** The shape of a distance zone. What is counted in ohm on a sheet stands here as a ratio to the reach. */
export type DistanceZone =
  | {
      /** A circle through the origin, or around it where it reaches behind. */
      readonly form: "mho";
      /** The angle along which the reach is counted. */
      readonly lineAngle: Degrees;
      /** How far an offset mho reaches behind, as a ratio to the reach. Default 0. */
      readonly reverseRatio?: number;
    }
  | {
      readonly form: "quadrilateral";
      readonly lineAngle: Degrees;
      /** Where the right blinder meets the resistance axis, as a ratio to the reach. */
      readonly resistanceRatio: number;
      /** How the reactance line is turned about the point that is reached; negative = falling to the right. Default 0. */
      readonly tilt?: Degrees;
      /** The direction of the right blinder. Default: the line angle. */
      readonly blinderAngle?: Degrees;
      /** The two lines through the origin between which faults lie forward. */
      readonly forward: { readonly from: Degrees; readonly to: Degrees };
    };

/** How the residual current enters the loops to earth: a complex factor k0, or the ratios RE/RL and XE/XL of the line. */
export type EarthReturn =
  | { readonly factor: Phasor }
  | { readonly resistanceRatio: number; readonly reactanceRatio: number };
