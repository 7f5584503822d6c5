import { above, fail, options } from "../base/check.js";
import type { Volts } from "../base/units.js";
import {
  add,
  angle,
  divide,
  magnitude,
  multiply,
  negate,
  type Phases,
  type Phasor,
  polar,
  type Rotation,
  rotate,
  scale,
  subtract,
  threePhase,
} from "../phasor/index.js";
import { checkLoop, isToEarth, type Loop, phasesOf } from "./loops.js";
import { phasorAt } from "./phasor-at.js";

/** A fault as a relay is to see it. */
export interface WantedFault {
  /** `abc` is a fault of all three phases. */
  readonly loop: Loop | "abc";
  /** What the loop has to measure, in ohm at the relay. */
  readonly impedance: Phasor;
  /** Needed by the loops to earth. */
  readonly k0?: Phasor;
  /** Before the fault, to neutral, in V. */
  readonly healthyVoltage: Volts;
  readonly rotation?: Rotation;
  /** What is held: the current of the faulted phases in A, the voltage of the loop in V, or a source behind the relay. */
  readonly held:
    | { readonly current: number }
    | { readonly loopVoltage: number }
    | { readonly source: Phasor; readonly sourceK0?: Phasor };
}

/** Voltages to neutral and currents of a fault. */
export interface FaultState {
  readonly v: Phases;
  readonly i: Phases;
}

/**
 * The voltages and currents with which a loop of a distance relay measures a wanted impedance.
 *
 *     three phases:  v = i·z                       source: i = e/(zs + z)
 *     two phases:    va − vb = 2·i·z               source: i = (ea − eb)/(2·(zs + z))
 *     to earth:      va = i·z·(1 + k0)             source: i = e/(zs·(1 + ks0) + z·(1 + k0))
 *
 * Phases without a fault keep their healthy voltage and carry nothing; those of a fault between two phases lie on either side
 * of −½ of the third. With a current or a loop voltage held, the voltage of the loop keeps the angle that it had before the
 * fault; a source turns it as it does. The angle of phase a before the fault is 0.
 *
 * @returns In V and A at the relay.
 * @throws A {@link InputError} for an impedance of 0 with a loop voltage held, a current, voltage or healthy voltage that is
 * not above 0, more than one thing held, a loop to earth without k0 (and a source to earth without `sourceK0`), and a loop that
 * draws no current.
 * Accuracy: that of phasor arithmetic.
 * @source common practice
 *
 * @example
 * import { faultAt, loopImpedance } from "tripwright/characteristic";
 * import { magnitude, polar } from "tripwright/phasor";
 * const k0 = { re: 0.5, im: 0 };
 * const { v, i } = faultAt({ loop: "a", impedance: polar(4.05, 80.9), k0, healthyVoltage: 63.5, held: { current: 5 } });
 * magnitude(v.a).toFixed(3); // → "30.375"
 * const seen = loopImpedance({ v, i, loop: "a", k0 });
 * seen.kind === "found" && magnitude(seen.impedance).toFixed(3); // → "4.050"
 */
export function faultAt(wanted: WantedFault): FaultState {
  const fields = ["loop", "impedance", "k0", "healthyVoltage", "rotation", "held"];
  const { loop, k0, healthyVoltage, rotation = "ABC", held, ...rest } = options(wanted, fields);
  const impedance = phasorAt(rest.impedance, "impedance");
  above(healthyVoltage, 0, "healthyVoltage", "a voltage to neutral", "V");
  const healthy = threePhase(healthyVoltage, 0, rotation);
  const path = pathOf({ loop: loop === "abc" ? loop : checkLoop(loop, "loop"), impedance, k0, healthy });
  const { voltage, current } = drawn(path, held);
  return path.stateOf(voltage, current);
}

/** A loop on the way of its current: voltage = current · impedance, from before the fault to the fault. */
interface Path {
  readonly before: Phasor;
  readonly impedance: Phasor;
  readonly isToEarth: boolean;
  /** How often the source stands in the path. */
  readonly twice: 1 | 2;
  readonly stateOf: (voltage: Phasor, current: Phasor) => FaultState;
}

interface Wanted {
  readonly loop: Loop | "abc";
  readonly impedance: Phasor;
  readonly k0: Phasor | undefined;
  readonly healthy: Phases;
}

const NOTHING: Phasor = { re: 0, im: 0 };
const NO_CURRENTS: Phases = { a: NOTHING, b: NOTHING, c: NOTHING };

function pathOf({ loop, impedance, k0, healthy }: Wanted): Path {
  if (loop === "abc")
    return {
      before: healthy.a,
      impedance,
      isToEarth: false,
      twice: 1,
      stateOf: (voltage, current) => ({ v: turnedLike(healthy, voltage), i: turnedLike(healthy, current) }),
    };
  if (isToEarth(loop))
    return {
      before: healthy[loop],
      impedance: multiply(impedance, drawing(k0)),
      isToEarth: true,
      twice: 1,
      stateOf: (voltage, current) => ({ v: { ...healthy, [loop]: voltage }, i: { ...NO_CURRENTS, [loop]: current } }),
    };
  const [one, other] = phasesOf(loop);
  const middle = scale(add(healthy[one], healthy[other]), 0.5);
  return {
    before: subtract(healthy[one], healthy[other]),
    impedance: scale(impedance, 2),
    isToEarth: false,
    twice: 2,
    stateOf: (voltage, current) => {
      const half = scale(voltage, 0.5);
      return {
        v: { ...healthy, [one]: add(middle, half), [other]: subtract(middle, half) },
        i: { ...NO_CURRENTS, [one]: current, [other]: negate(current) },
      };
    },
  };
}

/** Three phases of the first one, in the rotation of a healthy set. */
function turnedLike(healthy: Phases, first: Phasor): Phases {
  const ratio = divide(first, healthy.a);
  return { a: first, b: multiply(healthy.b, ratio), c: multiply(healthy.c, ratio) };
}

function onePlus(factor: Phasor | undefined, path: string): Phasor {
  if (factor === undefined) return fail("missing", path, "the earth factor, which a loop to earth needs", factor);
  return add({ re: 1, im: 0 }, phasorAt(factor, path));
}

/** 1 + k0, with which a current of one phase counts. */
function drawing(k0: Phasor | undefined): Phasor {
  const factor = onePlus(k0, "k0");
  if (factor.re !== 0 || factor.im !== 0) return factor;
  return fail("out-of-range", "k0", "an earth factor with which the loop draws a current: 1 + k0 is not 0", k0);
}

function drawn(path: Path, held: WantedFault["held"]): { readonly voltage: Phasor; readonly current: Phasor } {
  const { current, loopVoltage, source, sourceK0 } = options(
    held as { current?: number; loopVoltage?: number; source?: Phasor; sourceK0?: Phasor },
    ["current", "loopVoltage", "source", "sourceK0"],
    "held",
  );
  const [first, second] = Object.entries({ current, loopVoltage, source }).filter(([, value]) => value !== undefined);
  if (first === undefined) fail("missing", "held", "one of current, loopVoltage, source", held);
  if (second !== undefined)
    fail("conflict", `held.${second[0]}`, `nothing beside the ${first[0]} that is held`, second[1]);
  if (source !== undefined) {
    phasorAt(source, "held.source");
    const behind = scale(path.isToEarth ? multiply(source, onePlus(sourceK0, "held.sourceK0")) : source, path.twice);
    const total = add(behind, path.impedance);
    const drawnCurrent = divide(path.before, nonzero(total, "held.source"));
    return { voltage: multiply(drawnCurrent, path.impedance), current: drawnCurrent };
  }
  const size = magnitude(path.impedance);
  if (current !== undefined) above(current, 0, "held.current", "a current", "A");
  else above(loopVoltage, 0, "held.loopVoltage", "a voltage", "V");
  const volts = current === undefined ? (loopVoltage as number) : current * size;
  const voltage = rotate(polar(volts, 0), angle(path.before));
  if (size === 0 && current !== undefined)
    return { voltage: NOTHING, current: rotate(polar(current, 0), angle(path.before)) };
  return { voltage, current: divide(voltage, nonzero(path.impedance, "impedance")) };
}

const nonzero = (z: Phasor, path: string): Phasor =>
  z.re === 0 && z.im === 0 ? fail("out-of-range", path, "an impedance other than 0 in the loop", z) : z;
