import { above, fail, finite, object, options } from "../base/check.js";
import { cosDegrees, sinDegrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { divide, type Phasor, scale, subtract } from "../phasor/index.js";
import { phasorAt } from "./phasor-at.js";

/** Impedances of a line, in ohm or per km. */
export interface LineImpedances {
  readonly z1: Phasor;
  readonly z0: Phasor;
}

/** The earth ratios of a line; each absent where what it is a ratio to is 0. */
export interface EarthRatios {
  /** RE/RL = (R0/R1 − 1)/3. */
  readonly resistance?: number;
  /** XE/XL = (X0/X1 − 1)/3. */
  readonly reactance?: number;
}

/**
 * The earth factor by which a relay adds the residual current to the phase current, so that the loop to earth measures z1.
 *
 *     k0 = (z0 − z1)/(3·z1)
 *
 * @throws A {@link InputError} for a z1 of 0, and for impedances that are no phasors.
 * Accuracy: that of phasor division, 2e-15 of the magnitude.
 * @source common practice
 *
 * @example
 * import { earthFactor } from "tripwright/characteristic";
 * earthFactor({ z1: { re: 0, im: 1 }, z0: { re: 0, im: 4 } }); // → { re: 1, im: 0 }
 */
export function earthFactor(line: LineImpedances): Phasor {
  const { z1, z0 } = impedancesOf(line);
  if (z1.re === 0 && z1.im === 0) fail("out-of-range", "z1", "an impedance other than 0", z1);
  return scale(divide(subtract(z0, z1), z1), 1 / 3);
}

function impedancesOf(line: LineImpedances): LineImpedances {
  const { z1, z0 } = object(line, "line", "the impedances of a line { z1, z0 }");
  return { z1: phasorAt(z1, "z1"), z0: phasorAt(z0, "z0") };
}

/**
 * The earth ratios RE/RL and XE/XL of a line, with which some relays take resistance and reactance apart.
 *
 * @throws A {@link InputError} for impedances that are no phasors.
 * Accuracy: 3 units in the last place.
 * @source common practice
 *
 * @example
 * import { earthRatios } from "tripwright/characteristic";
 * earthRatios({ z1: { re: 0.1, im: 0.4 }, z0: { re: 0.25, im: 1.3 } }); // → { resistance: 0.5, reactance: 0.75 }
 */
export function earthRatios(line: LineImpedances): EarthRatios {
  const { z1, z0 } = impedancesOf(line);
  const { re, im } = subtract(z0, z1);
  return {
    ...(z1.re !== 0 && { resistance: finite(re / z1.re / 3, "z0.re", "a resistance whose ratio fits a double") }),
    ...(z1.im !== 0 && { reactance: finite(im / z1.im / 3, "z0.im", "a reactance whose ratio fits a double") }),
  };
}

/**
 * The complex earth factor that stands for a pair of earth ratios. It gives the same impedance as the pair for faults on
 * the line angle alone: a fault through a resistance is measured differently by relays of the two kinds.
 *
 *     k0 = (RE/RL · R + j·XE/XL · X)/(R + jX)
 *
 * @param ratios - `resistance` RE/RL, `reactance` XE/XL, and the line angle in degrees.
 * @throws A {@link InputError} for ratios that are not finite, and for a line angle that is not above 0.
 * Accuracy: 1e-15 of the larger ratio.
 * @source common practice
 *
 * @example
 * import { earthFactorOfRatios } from "tripwright/characteristic";
 * earthFactorOfRatios({ resistance: 0.75, reactance: 0.75, lineAngle: 80 }); // → { re: 0.75, im: 0 }
 */
export function earthFactorOfRatios(ratios: {
  readonly resistance: number;
  readonly reactance: number;
  readonly lineAngle: Degrees;
}): Phasor {
  const { resistance, reactance, lineAngle } = options(ratios, ["resistance", "reactance", "lineAngle"]);
  finite(resistance, "resistance", "RE/RL");
  finite(reactance, "reactance", "XE/XL");
  above(lineAngle, 0, "lineAngle", "an angle", "°");
  const [r, x] = [cosDegrees(lineAngle), sinDegrees(lineAngle)];
  // (a·r + j·b·x)·(r − j·x) on the unit circle: two that are alike come out as they are.
  return { re: reactance + (resistance - reactance) * r * r, im: (reactance - resistance) * r * x + 0 };
}
