/** How a wanted quantity is made with the channels of a source. */
import { object } from "../base/check.js";
import { type ChannelStates, eachChannel, type Lift } from "../base/sequence.js";
import { atLevel } from "../timeline/index.js";
import type { Pose } from "./definition.js";
import { type Bench, balanced, type Setup, single, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";

/** The same source, its three channels turning the other way. */
export const backwards = (setup: Setup): Setup => ({ ...setup, rotation: setup.rotation === "ABC" ? "ACB" : "ABC" });

/** The channels of a bench, at 0. */
export const turnedOff = ({ states, wiring }: Bench): Bench => ({
  states: eachChannel(states, (state) => ({ ...state, rms: 0 })),
  wiring,
});

/** Every channel of a bench moves by so much of its rms for each unit of the level. */
export function byRms({ states, wiring }: Bench, perLevel: number, note?: string) {
  return posed({ states, wiring }, { rms: perLevel }, note);
}

/** Every channel of a bench moves alike. */
export function posed({ states, wiring }: Bench, lift: Lift, note?: string) {
  const lever = eachChannel(states, () => lift);
  return { kind: "found", base: states, lever, wiring, ...(note !== undefined && { note }) } as const satisfies {
    kind: "found";
  } & Pose;
}

/** One current channel on one phase: 3·I0 is the current itself. */
export const onePhaseCurrent = (setup: Setup) =>
  byRms(single(setup, "current", 0, { ia: 1 }), 1, "one phase: 3I0 = I, and I1 = I2 = I0 = I/3");

/** One current channel on the input of a current transformer of its own. */
export const groundCurrent = (setup: Setup) =>
  byRms(single(setup, "current", 0, { ig: 1 }), 1, "on the ground input ig alone; the phases carry nothing");

/** One voltage channel from line a to line b, the neutral at its midpoint. */
export const voltageLineToLine = (setup: Setup) => byRms(single(setup, "voltage", 0, { va: 0.5, vb: -0.5 }), 1);

/** `share` of I2 for each unit of the level: a reversed set on three channels, out on a and back on b with one. */
export function negativeSequenceCurrent(setup: Setup, share: number) {
  if (setup.currentChannels === 3)
    return byRms(balanced(backwards(setup), "current", 0), share, "a balanced set turning backwards: I2 = I, no I1");
  return byRms(
    single(setup, "current", 0, { ia: 1, ib: -1 }),
    share * SQRT3,
    "out on phase a, back on phase b: I1 = I2 = I/√3, no residual",
  );
}

/** A negative-sequence voltage: a reversed set on three channels, from line a to line b with one. */
export function negativeSequenceVoltage(setup: Setup) {
  if (setup.voltageChannels === 3)
    return byRms(balanced(backwards(setup), "voltage", 0), 1, "a balanced set turning backwards: V2 = V, no V1");
  return byRms(
    single(setup, "voltage", 0, { va: 0.5, vb: -0.5 }),
    2 * SQRT3,
    "from line a to line b, neutral at the midpoint: V1 = V2 = V/(2√3), no V0",
  );
}

/** All three voltages to neutral in phase, `share` of V0 for each unit of the level. */
export function zeroSequenceVoltage(setup: Setup, share: number) {
  if (setup.voltageChannels === 1)
    return byRms(voltagesToNeutral(setup, 0), share, "all three inputs in parallel: V0 = V, no V1 or V2");
  const { states, wiring } = balanced(setup, "voltage", 0);
  const inPhase = eachChannel(states, (state) => ({ ...state, angle: 0 }));
  return byRms({ states: inPhase, wiring }, share, "all three phases in phase: V0 = V, no V1 or V2");
}

/** One voltage channel on the input behind an open-delta winding. */
export const openDeltaVoltage = (setup: Setup) =>
  byRms(single(setup, "voltage", 0, { vn: 1 }), 1, "on the open-delta input vn alone");

/**
 * The channel states of a pose at a level.
 *
 * @throws A {@link InputError} as `atLevel` of the timeline does.
 * Accuracy: that of `atLevel`.
 * @source definition
 *
 * @example
 * import { standingAt } from "tripwright/element";
 * const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
 * standingAt({ base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } }, wiring }, 4).i?.rms; // → 4
 */
export function standingAt(pose: Pose, level: number): ChannelStates {
  const { base, lever, statesAt } = object(pose, "pose", "a pose { base, lever, wiring }");
  return statesAt === undefined ? atLevel(base, { lever, level }) : { ...base, ...statesAt(level) };
}
