/** The loops of a distance function, and what they measure. */
import { earthFactorOfRatios, type Loop, loopQuantities } from "../characteristic/index.js";
import { add, divide, magnitude, type Phases, type Phasor } from "../phasor/index.js";
import type { RelayInputs } from "./inputs.js";
import type { DistanceSetting } from "./setting.js";
import { phasesSeen } from "./watched.js";

const LOOPS = {
  "phase-loops": ["ab", "bc", "ca"],
  "earth-loops": ["a", "b", "c"],
  "phase-and-earth-loops": ["ab", "bc", "ca", "a", "b", "c"],
} as const satisfies { readonly [W in DistanceSetting["watches"]]: readonly Loop[] };

/** The loops that are measured, those of phases first. */
export const loopsOf = ({ watches }: DistanceSetting): readonly Loop[] => LOOPS[watches];

export const isToEarth = (loop: Loop): boolean => loop.length === 1;

type Phase = keyof Phases;

/** The phases whose currents a loop takes. */
export const phasesOf = (loop: Loop): readonly Phase[] => [...loop] as Phase[];

/** k0; a pair of ratios stands for one on the line angle. */
export function earthFactorOf({ earth, zone: { lineAngle } }: DistanceSetting): Phasor {
  if (earth === undefined) return { re: 0, im: 0 };
  if ("factor" in earth) return earth.factor;
  const { resistanceRatio: resistance, reactanceRatio: reactance } = earth;
  return earthFactorOfRatios({ resistance, reactance, lineAngle });
}

/** No current at all: what is left where sums cancel, as a share of the largest current and in amperes. */
const NOTHING = 1e-9;

/**
 * The impedances that are measured. A loop is left out while one of its phases carries less than the minimum, and a loop to
 * earth while the residual does: it would mistake faults between phases for nearer ones.
 */
export function impedancesSeen(inputs: RelayInputs, setting: DistanceSetting): Phasor[] {
  const [v, i] = [phasesSeen(inputs, "v"), phasesSeen(inputs, "i")];
  const largest = Math.max(magnitude(i.a), magnitude(i.b), magnitude(i.c));
  const nothing = NOTHING * Math.max(1, largest);
  const { minimumCurrent = 0 } = setting;
  const carries = (current: Phasor) => magnitude(current) > nothing && magnitude(current) >= minimumCurrent;
  const hasResidual = carries(add(add(i.a, i.b), i.c));
  const k0 = earthFactorOf(setting);
  return loopsOf(setting)
    .filter((loop) => (hasResidual || !isToEarth(loop)) && phasesOf(loop).every((phase) => carries(i[phase])))
    .flatMap((loop) => {
      const { voltage, current } = loopQuantities({ v, i, loop, k0 });
      return magnitude(current) > nothing ? [divide(voltage, current)] : [];
    });
}
