/** A distance zone as typed on a sheet. */
import type { Typed } from "./typed.js";

/** The shape of a distance zone; the reach along the line angle is the pickup. */
export type TypedZone =
  | {
      readonly form: "mho";
      /** The angle along which the reach is counted, such as `"75°"`. */
      readonly lineAngle: Typed;
      /** How far an offset mho reaches behind, in ohm. */
      readonly reverse?: Typed | undefined;
    }
  | {
      readonly form: "quadrilateral";
      readonly lineAngle: Typed;
      /** Where the right blinder meets the resistance axis, in ohm. */
      readonly resistance: Typed;
      /** How the reactance line is turned about the point that is reached; negative = falling to the right. Default 0. */
      readonly tilt?: Typed | undefined;
      /** The direction of the right blinder. Default: the line angle. */
      readonly blinderAngle?: Typed | undefined;
      /** The two lines through the origin between which faults lie forward, such as −15° and 115°. */
      readonly forward: { readonly from: Typed; readonly to: Typed };
    };

/** An impedance as typed, in ohm or ohm per km: in parts, or by its size and angle. */
export type TypedImpedance =
  | { readonly resistance: Typed; readonly reactance: Typed }
  | { readonly size: Typed; readonly angle: Typed };

/** How the residual current enters the loops to earth, as typed. */
export type TypedEarth =
  /** |k0| and its angle, 0 where it is not given. */
  | { readonly factor: number; readonly angle?: Typed | undefined }
  /** k0 = (Z0 − Z1)/(3·Z1) from the line. */
  | { readonly z1: TypedImpedance; readonly z0: TypedImpedance }
  /** RE/RL and XE/XL. */
  | { readonly resistanceRatio: number; readonly reactanceRatio: number };
