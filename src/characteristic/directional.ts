/** Directional functions: what is compared with what, and on which side faults lie forward. */
import { fail, finite, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Degrees } from "../base/units.js";
import {
  add,
  conjugate,
  multiply,
  negate,
  type Phases,
  type Phasor,
  type Rotation,
  rotate,
  subtract,
  toComponents,
} from "../phasor/index.js";
import { phaseAt, phasorAt } from "./phasor-at.js";
import type { Sector } from "./region.js";

/**
 * The polarising quantity with which a current is compared: the voltage of its own phase (`self`), that of the other two
 * phases (`quadrature`, the 90° connection), `-3V0` or `3V0` for the residual current, `-V2` for the negative sequence.
 */
export type Polarising = "self" | "quadrature" | "-3V0" | "3V0" | "-V2";

/** What a relay sees, and how its direction is polarised. */
export interface DirectionalInputs {
  /** Voltages to neutral. */
  readonly v: Phases;
  readonly i: Phases;
  readonly polarising: Polarising;
  /** Of `self` and `quadrature`. */
  readonly phase?: "a" | "b" | "c";
  readonly rotation?: Rotation;
}

/** What is compared. */
export interface DirectionalQuantities {
  readonly operating: Phasor;
  readonly polarising: Phasor;
}

const OTHERS = { a: ["b", "c"], b: ["c", "a"], c: ["a", "b"] } as const;
const KINDS = { self: 1, quadrature: 1, "-3V0": 1, "3V0": 1, "-V2": 1 } as const;

/**
 * The operating current of a directional function and its polarising quantity. In the 90° connection phase a is compared
 * with vb − vc, which lags va by 90° in rotation ABC; in rotation ACB with vc − vb, which does so there.
 *
 * @throws A {@link InputError} for phasors that are none, unknown names, and a phase that is missing.
 * Accuracy: that of phasor arithmetic.
 * @source common practice
 *
 * @example
 * import { comparedOf } from "tripwright/characteristic";
 * import { angle, threePhase } from "tripwright/phasor";
 * const inputs = { v: threePhase(63.5), i: threePhase(5, -60), polarising: "quadrature", phase: "a" } as const;
 * angle(comparedOf(inputs).polarising); // → -90
 */
export function comparedOf(inputs: DirectionalInputs): DirectionalQuantities {
  const { v, i, phase, rotation = "ABC", ...rest } = options(inputs, ["v", "i", "polarising", "phase", "rotation"]);
  const polarising = nameIn(rest.polarising, KINDS, "polarising");
  object(v, "v", "voltages to neutral { a, b, c }");
  object(i, "i", "currents { a, b, c }");
  if (polarising === "-V2") {
    const negative = (set: Phases, path: string) => within(path, () => toComponents(set, rotation)).negative;
    return { operating: negative(i, "i"), polarising: negate(negative(v, "v")) };
  }
  if (polarising === "-3V0" || polarising === "3V0") {
    const residual = (set: Phases, path: string) => {
      const [a, b, c] = [phaseAt(set, "a", path), phaseAt(set, "b", path), phaseAt(set, "c", path)];
      return within(path, () => add(add(a, b), c));
    };
    const voltage = residual(v, "v");
    return { operating: residual(i, "i"), polarising: polarising === "3V0" ? voltage : negate(voltage) };
  }
  if (phase === undefined) fail("missing", "phase", "the phase whose current is compared", phase);
  const name = nameIn(phase, OTHERS, "phase");
  const [next, last] = OTHERS[name];
  const operating = phaseAt(i, name, "i");
  if (polarising === "self") return { operating, polarising: phaseAt(v, name, "v") };
  const [behind, ahead] = [phaseAt(v, next, "v"), phaseAt(v, last, "v")];
  const across = within("v", () => (rotation === "ABC" ? subtract(behind, ahead) : subtract(ahead, behind)));
  return { operating, polarising: across };
}

/** Where faults lie forward. */
export interface DirectionalLimits {
  /** The angle of the operating current relative to the polarising quantity at which the function is most sensitive; + = leading. */
  readonly characteristicAngle: Degrees;
  /** How far the operating current may lead the characteristic angle. Default 90°. */
  readonly leading?: Degrees;
  /** How far it may lag. Default 90°. */
  readonly lagging?: Degrees;
}

/**
 * The sector of the operating current, seen from its polarising quantity, in which faults lie forward.
 *
 * @throws A {@link InputError} for angles that are not finite, limits that are not above 0, and a sector of 360° or more.
 * Accuracy: limits are sums of what was given.
 * @source common practice
 *
 * @example
 * import { directionalSector } from "tripwright/characteristic";
 * directionalSector({ characteristicAngle: 45 }); // → { form: "sector", from: -45, to: 135 }
 * directionalSector({ characteristicAngle: -45, leading: 80, lagging: 80 }); // → { form: "sector", from: -125, to: 35 }
 */
export function directionalSector(limits: DirectionalLimits): Sector {
  const {
    characteristicAngle,
    leading = 90,
    lagging = 90,
  } = options(limits, ["characteristicAngle", "leading", "lagging"]);
  finite(characteristicAngle, "characteristicAngle", "an angle in degrees");
  for (const [path, limit] of Object.entries({ leading, lagging })) {
    finite(limit, path, "an angle in degrees");
    if (!(limit > 0 && limit <= 180)) fail("out-of-range", path, "an angle above 0° up to 180°", limit);
  }
  if (leading + lagging >= 360) fail("conflict", "lagging", "a sector of less than 360° together", lagging);
  return { form: "sector", from: characteristicAngle - lagging, to: characteristicAngle + leading };
}

/**
 * The operating current as it is seen from its polarising quantity: operating · conj(polarising), whose angle is that
 * between them, turned back by the characteristic angle. Its real part is |i|·|v|·cos(φ − characteristic angle), which is
 * positive forward; it is the current of an I·cos φ function where `v` has the size 1.
 *
 * @throws A {@link InputError} for phasors that are none.
 * Accuracy: that of phasor multiplication.
 * @source common practice
 *
 * @example
 * import { directionalProduct } from "tripwright/characteristic";
 * import { polar } from "tripwright/phasor";
 * const product = directionalProduct({ operating: polar(5, -15), polarising: polar(1, 0) }, -45);
 * product.re.toFixed(3); // → "4.330"
 */
export function directionalProduct(compared: DirectionalQuantities, characteristicAngle: Degrees): Phasor {
  const { operating, polarising } = object(compared, "compared", "two phasors { operating, polarising }");
  phasorAt(operating, "operating");
  phasorAt(polarising, "polarising");
  finite(characteristicAngle, "characteristicAngle", "an angle in degrees");
  return rotate(multiply(operating, conjugate(polarising)), -characteristicAngle);
}
