/** Currents at an angle to what polarises a directional function, with the source at hand. */
import type { Answer } from "../base/answer.js";
import { type ChannelStates, eachChannel } from "../base/sequence.js";
import type { Degrees, Volts } from "../base/units.js";
import { type DirectionalQuantities, directionalProduct } from "../characteristic/index.js";
import { angle, magnitude } from "../phasor/index.js";
import type { Pose } from "./definition.js";
import { comparedBy } from "./directional-read.js";
import { inputsOf } from "./inputs.js";
import { backwards } from "./poses.js";
import type { DirectionalSetting } from "./setting.js";
import { type Bench, balanced, currents, type Setup, single, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";

/** Sets that turn backwards; one channel stands between two phases. */
function ofNegativeSequence(setup: Setup, ratedVoltage: Volts): { v: Bench; i: Bench; note: string } {
  const reversed = backwards(setup);
  const [v, ofVoltages] =
    setup.voltageChannels === 3
      ? [balanced(reversed, "voltage", ratedVoltage / SQRT3), "voltages turning backwards: V2 = V"]
      : [
          single(setup, "voltage", ratedVoltage, { va: 0.5, vb: -0.5 }),
          "from line a to line b, neutral at the midpoint: V2 = V/(2√3)",
        ];
  const [i, ofCurrents] =
    setup.currentChannels === 3
      ? [balanced(reversed, "current", 1), "currents turning backwards: I2 = I"]
      : [single(setup, "current", 1, { ia: 1, ib: -1 }), "out on phase a, back on phase b: I2 = I/√3"];
  return { v, i, note: `${ofVoltages}; ${ofCurrents}` };
}

/** Voltages that polarise, and currents of 1 A, before they are turned. */
function benchOf(
  { watches, polarising, rotation }: DirectionalSetting,
  given: Setup,
): { v: Bench; i: Bench; note: string } | string {
  const setup = { ...given, rotation };
  if (setup.ratedVoltage === undefined) return "no rated voltage is given to polarise with";
  const toNeutral = setup.ratedVoltage / SQRT3;
  if (watches === "negative-sequence") return ofNegativeSequence(setup, setup.ratedVoltage);
  if (watches === "residual") {
    const whole = voltagesToNeutral(setup, toNeutral);
    const faulted = { ...whole.states, va: { ...(whole.states["va"] as ChannelStates[string]), rms: 0 } };
    return {
      v: setup.voltageChannels === 3 ? { ...whole, states: faulted } : single(setup, "voltage", toNeutral, { va: 1 }),
      i: single(setup, "current", 1, { ia: 1 }),
      note: setup.voltageChannels === 3 ? "phase a without voltage: −3V0 = E" : "on phase a alone: 3V0 = V",
    };
  }
  const [next, last] = rotation === "ABC" ? ["vb", "vc"] : ["vc", "vb"];
  const alone =
    polarising === "self"
      ? single(setup, "voltage", toNeutral, { va: 1 })
      : single(setup, "voltage", setup.ratedVoltage, { [next as string]: 0.5, [last as string]: -0.5 });
  return {
    v: setup.voltageChannels === 3 ? voltagesToNeutral(setup, toNeutral) : alone,
    i: setup.voltageChannels === 3 ? currents(setup, 1) : single(setup, "current", 1, { ia: 1 }),
    note:
      setup.voltageChannels === 3 && setup.currentChannels === 3
        ? "a balanced set, each phase with its own polarising voltage"
        : "phase a alone",
  };
}

/** How the channels stand at an angle of the current to its polarising quantity, and what one ampere of it takes. */
interface Directed extends Bench {
  readonly current: Bench;
  readonly note: string;
}

/** The currents are posed, looked at, and turned to the angle; each gives one ampere of what is watched. */
function directedAt(setting: DirectionalSetting, setup: Setup, wanted: Degrees): Directed | string {
  const bench = benchOf(setting, setup);
  if (typeof bench === "string") return bench;
  const { v, i, note } = bench;
  const wiring = { ...v.wiring, ...i.wiring };
  const [compared] = comparedBy(inputsOf({ ...v.states, ...i.states }, wiring), setting);
  const { operating, polarising } = compared as DirectionalQuantities;
  const off = angle(directionalProduct({ operating, polarising }, 0));
  const states = eachChannel(i.states, (state) => ({
    ...state,
    rms: state.rms / magnitude(operating),
    angle: (state.angle ?? 0) + wanted - off,
  }));
  return { states: { ...v.states, ...states }, wiring, current: { states, wiring: i.wiring }, note };
}

/** The size of the current is the level, at an angle. */
export function bySize(setting: DirectionalSetting, setup: Setup, wanted: Degrees): Answer<Pose, string> {
  const directed = directedAt(setting, setup, wanted);
  if (typeof directed === "string") return { kind: "none", reason: directed };
  const { states, wiring, current, note } = directed;
  const off = eachChannel(current.states, (state) => ({ ...state, rms: 0 }));
  const lever = eachChannel(current.states, ({ rms }) => ({ rms }));
  return { kind: "found", base: { ...states, ...off }, lever, wiring, note };
}

/** How far above the pickup an angle is swept, so that the size of the current does not matter. */
export const ABOVE = 2;

/** The angle of the current to its polarising quantity is the level, at twice the pickup. */
export function byAngle(setting: DirectionalSetting, setup: Setup): Answer<Pose, string> {
  const directed = directedAt(setting, setup, 0);
  if (typeof directed === "string") return { kind: "none", reason: directed };
  const { states, wiring, current, note } = directed;
  const rms = ABOVE * (setting.law.startRatio ?? 1) * setting.pickup;
  const larger = eachChannel(current.states, (state) => ({ ...state, rms: state.rms * rms }));
  const lever = eachChannel(current.states, () => ({ angle: 1 }));
  return {
    kind: "found",
    base: { ...states, ...larger },
    lever,
    wiring,
    note: `${note}; the angle is that of the current to its polarising quantity`,
  };
}
