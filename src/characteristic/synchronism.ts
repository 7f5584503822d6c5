/** Two systems before they are joined: how far apart their voltages are, and when to close. */
import { above, atLeast, finite, options } from "../base/check.js";
import type { Degrees, Hertz, Seconds, Volts } from "../base/units.js";
import { angle, conjugate, magnitude, multiply, type Phasor, subtract } from "../phasor/index.js";
import { phasorAt } from "./phasor-at.js";

/** How far apart two voltages are. */
export interface VoltagesApart {
  /** |incoming| − |running|, in V. */
  readonly difference: Volts;
  /** |incoming − running|, in V: what stands across the open breaker. */
  readonly across: Volts;
  /** By how much the incoming voltage leads, in (−180°, 180°]. */
  readonly angle: Degrees;
}

/**
 * How far two voltages are apart.
 *
 *     across² = a² + b² − 2·a·b·cos δ,  2·a·sin(δ/2) where both are alike
 *
 * @throws A {@link InputError} for phasors that are none.
 * Accuracy: that of phasor arithmetic; the angle 2 units in the last place of 180°.
 * @source definition
 *
 * @example
 * import { voltagesApart } from "tripwright/characteristic";
 * import { polar } from "tripwright/phasor";
 * const apart = voltagesApart({ incoming: polar(1, 60), running: polar(1, 0) });
 * apart.across.toFixed(6); // → "1.000000"
 * apart.angle.toFixed(6); // → "60.000000"
 */
export function voltagesApart(voltages: { readonly incoming: Phasor; readonly running: Phasor }): VoltagesApart {
  const { incoming, running } = options(voltages, ["incoming", "running"]);
  const sizes = {
    incoming: magnitude(phasorAt(incoming, "incoming")),
    running: magnitude(phasorAt(running, "running")),
  };
  return {
    difference: sizes.incoming - sizes.running,
    across: magnitude(subtract(incoming, running)),
    angle: angle(multiply(incoming, conjugate(running))),
  };
}

/**
 * How long before coincidence a breaker has to be told to close, as an angle: it closes while the voltages turn on.
 *
 *     360° · slip · closing time
 *
 * @param closing - `slip` in Hz, positive where the incoming system is faster; `closingTime` of the breaker in s.
 * @returns Degrees before coincidence; negative where the incoming system is slower and comes from the other side.
 * @throws A {@link InputError} for a slip that is not finite and a negative time.
 * Accuracy: 2 units in the last place.
 * @source kinematics
 *
 * @example
 * import { advanceAngle } from "tripwright/characteristic";
 * advanceAngle({ slip: 0.05, closingTime: 0.2 }); // → 3.6
 */
export function advanceAngle(closing: { readonly slip: Hertz; readonly closingTime: Seconds }): Degrees {
  const { slip, closingTime } = options(closing, ["slip", "closingTime"]);
  finite(slip, "slip", "a slip in Hz");
  atLeast(closingTime, 0, "closingTime", "a time", "s");
  return finite(360 * slip * closingTime, "slip", "a slip whose angle fits a double");
}

/**
 * The most slip that a check by angle window and timer lets pass: the pointer has to stay within the whole window for the
 * time of the timer.
 *
 *     2 · window/360°/timer
 *
 * @param check - `window` on either side of coincidence in degrees, `timer` in s.
 * @returns In Hz.
 * @throws A {@link InputError} for a window or a timer that is not above 0.
 * Accuracy: 2 units in the last place.
 * @source kinematics
 *
 * @example
 * import { mostSlip } from "tripwright/characteristic";
 * mostSlip({ window: 18, timer: 0.5 }); // → 0.2
 */
export function mostSlip(check: { readonly window: Degrees; readonly timer: Seconds }): Hertz {
  const { window, timer } = options(check, ["window", "timer"]);
  above(window, 0, "window", "an angle", "°");
  above(timer, 0, "timer", "a time", "s");
  return finite(window / 180 / timer, "timer", "a time whose slip fits a double");
}
