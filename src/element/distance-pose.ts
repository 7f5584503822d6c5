/** Faults of a wanted impedance with the source at hand. */
import type { Answer } from "../base/answer.js";
import { signedAngle } from "../base/degrees.js";
import { decimal, ROUNDING, toNumber } from "../base/exact.js";
import { type ChannelState, type ChannelStates, eachChannel } from "../base/sequence.js";
import type { Amperes, Degrees, Ohms, Volts } from "../base/units.js";
import { plain } from "../base/written.js";
import type { Loop } from "../characteristic/index.js";
import {
  add,
  angle as angleOf,
  magnitude,
  normalizeAngle,
  type Phases,
  type Phasor,
  polar,
  scale,
  subtract,
  threePhase,
} from "../phasor/index.js";
import type { Pose } from "./definition.js";
import { earthFactorOf, isToEarth, phasesOf } from "./distance-loops.js";
import { standingAt } from "./poses.js";
import type { DistanceSetting } from "./setting.js";
import { type Bench, type Setup, single, voltagesToNeutral } from "./setup.js";
import { SQRT3 } from "./three-phases.js";

/** A ray from the origin along which a loop is taken to the boundary. */
interface Path {
  readonly loop: Loop;
  /** Of the impedance. */
  readonly angle: Degrees;
  /** Where the boundary lies, which says how much current leaves the voltages in range. */
  readonly at: Ohms;
}

/** A fault as it is fed: what is held and what moves. */
interface Fault extends Path {
  readonly setup: Setup;
  readonly toNeutral: Volts;
  /** Volts on the loop for each ampere and ohm: |1 + k0|, or 2 between phases. */
  readonly per: number;
  readonly current: Amperes;
  /** The angle of the voltage of the loop, which stays, and that of the current of its first phase. */
  readonly voltageAngle: Degrees;
  readonly currentAngle: Degrees;
}

/** How much of its rated voltage a loop keeps on the boundary, at the most: a sweep that begins outside needs more. */
const MOST_VOLTAGE = 0.7;

/** How much it keeps there at the least, if up to twice rated current can see to that: both are poor at fractions of a volt. */
const LEAST_VOLTAGE = 0.1;
const RAISED = 2;

/** How far a current lies above the minimum: by more than a source and a relay may be off. */
const CLEARLY = 1.2;

/** An impedance of a loop along an angle as the level, at a current that is held. */
export function poseAlong(path: Path, setting: DistanceSetting, setup: Setup): Answer<Pose, string> {
  const fault = faultOf(path, setting, setup);
  if (typeof fault === "string") return { kind: "none", reason: fault };
  const i = currentsOf(fault, fault.current);
  const v = voltagesOf(fault);
  const wiring = { ...v.bench.wiring, ...i.wiring };
  return {
    kind: "found",
    base: { ...v.bench.states, ...i.states },
    lever: v.lever,
    wiring,
    note: noteOf(fault, setting),
    ...(v.statesAt && { statesAt: v.statesAt }),
    healthy: { ...v.healthy, ...currentsOf(fault, 0).states },
  };
}

/** The angle of the impedance as the level, its size and the voltages held: the current turns. */
export function poseAround(
  { loop, size }: { readonly loop: Loop; readonly size: Ohms },
  setting: DistanceSetting,
  setup: Setup,
): Answer<Pose, string> {
  const fault = faultOf({ loop, angle: 0, at: size }, setting, setup);
  const along = poseAlong({ loop, angle: 0, at: size }, setting, setup);
  if (typeof fault === "string" || along.kind === "none") return along;
  const { statesAt: _, ...rest } = along;
  return {
    ...rest,
    base: standingAt(along, size),
    // An impedance leads by what its current lags the voltage.
    lever: eachChannel(currentsOf(fault, 0).states, () => ({ angle: -1 })),
    note: noteOf(fault, setting, `at ${plain(size, 6)} ohm, whose angle moves with the current`),
  };
}

function faultOf(path: Path, setting: DistanceSetting, setup: Setup): Fault | string {
  const { loop, angle, at } = path;
  const { ratedVoltage } = setup;
  if (ratedVoltage === undefined) return "no rated voltage is given to begin a fault from";
  const isOneVoltage = setup.voltageChannels === 1;
  const toNeutral = ratedVoltage / SQRT3;
  const k = add({ re: 1, im: 0 }, earthFactorOf(setting));
  const [per, turn] = isToEarth(loop) ? [magnitude(k), angleOf(k)] : [2, 0];
  const voltsPerAmpere = (per * at) / (isToEarth(loop) ? toNeutral : ratedVoltage);
  const current = testCurrent(voltsPerAmpere, setting, setup);
  if (current === undefined)
    return `${plain(at, 6)} ohm take more than rated voltage at the minimum current of ${plain(setting.minimumCurrent ?? 0, 6)} A`;
  const voltageAngle = isOneVoltage ? 0 : angleBefore(loop, setup);
  return {
    ...path,
    setup,
    toNeutral,
    per,
    current,
    voltageAngle,
    currentAngle: signedAngle(voltageAngle - angle - turn),
  };
}

/**
 * The current that is held: rated; more where that leaves next to no voltage, or where the minimum asks for it; less where
 * that takes too much voltage, or is more than the source makes and the inputs carry. Nothing where voltage and minimum exclude
 * each other.
 *
 * @param perAmpere - What one ampere takes on the boundary, as a share of the rated voltage of the loop.
 */
function testCurrent(
  perAmpere: number,
  { minimumCurrent = 0 }: DistanceSetting,
  { ratedCurrent = 1, largestCurrent = Number.POSITIVE_INFINITY }: Setup,
): Amperes | undefined {
  const [least, most] = [CLEARLY * minimumCurrent, MOST_VOLTAGE / perAmpere];
  if (most < least) return undefined;
  const raised = Math.max(ratedCurrent, Math.min(LEAST_VOLTAGE / perAmpere, RAISED * ratedCurrent));
  const wanted = Number(Math.max(Math.min(raised, most, largestCurrent), least).toPrecision(3));
  // A minimum beyond what the source makes is for the source to refuse.
  if (wanted <= largestCurrent || least > largestCurrent) return wanted;
  return toNumber(decimal(largestCurrent, "largestCurrent").toSignificantDigits(3, ROUNDING.floor), "largestCurrent");
}

/** The angle of the voltage of a loop in a healthy system: a whole number of twelfths of a turn. */
function angleBefore(loop: Loop, { rotation }: Setup): Degrees {
  const healthy = threePhase(1, 0, rotation);
  const [one, other] = phasesOf(loop) as [keyof Phases, keyof Phases | undefined];
  const before = other === undefined ? healthy[one] : subtract(healthy[one], healthy[other]);
  return Math.round(angleOf(before) / 30) * 30;
}

/** Out on the first phase of the loop, back on the second or through earth. */
function currentsOf({ setup, loop, currentAngle }: Fault, rms: Amperes): Bench {
  const phases = phasesOf(loop);
  const feeds = phases.map((phase, n) => [`i${phase}`, n === 0 ? 1 : -1] as const);
  const turned = (back: boolean): ChannelState => ({
    rms,
    frequency: setup.frequency,
    angle: back ? signedAngle(currentAngle + 180) : currentAngle,
  });
  if (setup.currentChannels === 1) {
    const { wiring } = single(setup, "current", rms, Object.fromEntries(feeds));
    return { wiring, states: { i: turned(false) } };
  }
  return {
    wiring: Object.fromEntries(feeds.map(([name]) => [name, { quantity: "current", feeds: { [name]: 1 } }])),
    states: Object.fromEntries(feeds.map(([name, sign]) => [name, turned(sign < 0)])),
  };
}

interface Moving {
  readonly bench: Bench;
  readonly lever: Pose["lever"];
  readonly healthy: ChannelStates;
  readonly statesAt?: (level: Ohms) => ChannelStates;
}

function voltagesOf(fault: Fault): Moving {
  const { setup, loop, toNeutral, per, current, voltageAngle } = fault;
  const [one, other] = phasesOf(loop) as [keyof Phases, keyof Phases | undefined];
  if (setup.voltageChannels === 1) {
    const feeds = other === undefined ? { [`v${one}`]: 1 } : { [`v${one}`]: 0.5, [`v${other}`]: -0.5 };
    const rated = other === undefined ? toNeutral : toNeutral * SQRT3;
    const { wiring, states } = single(setup, "voltage", 0, feeds);
    return {
      bench: { wiring, states },
      lever: { v: { rms: per * current } },
      healthy: single(setup, "voltage", rated, feeds).states,
    };
  }
  const { wiring, states } = voltagesToNeutral(setup, toNeutral);
  if (other === undefined) {
    const name = `v${one}`;
    const fallen = { ...states, [name]: { ...(states[name] as ChannelState), rms: 0 } };
    return { bench: { wiring, states: fallen }, lever: { [name]: { rms: per * current } }, healthy: states };
  }
  const healthy = threePhase(toNeutral, 0, setup.rotation);
  const middle = scale(add(healthy[one], healthy[other]), 0.5);
  // On either side of −½ of the phase without a fault, as in a fault between two phases.
  const statesAt = (level: Ohms): ChannelStates => {
    const half = polar((level * per * current) / 2, voltageAngle);
    return {
      ...states,
      [`v${one}`]: channelOf(add(middle, half), setup),
      [`v${other}`]: channelOf(subtract(middle, half), setup),
    };
  };
  return { bench: { wiring, states: statesAt(0) }, lever: {}, healthy: states, statesAt };
}

const channelOf = (phasor: Phasor, { frequency }: Setup): ChannelState => ({
  rms: magnitude(phasor),
  frequency,
  angle: angleOf(phasor),
});

/** An angle on [0, 360), so that no minus stands in the name of a check. */
export const angleFromZero = (angle: Degrees): string => plain(normalizeAngle(Number(plain(angle, 6)), "positive"), 6);

/** Which loop is fed, and how its voltages come from the impedance. */
function noteOf(
  { loop, angle, current, setup, per }: Fault,
  setting: DistanceSetting,
  place = `at ${angleFromZero(angle)}°`,
): string {
  const [one, other] = phasesOf(loop);
  const isSingle = setup.voltageChannels === 1;
  const dead = isSingle ? "; no voltage on the sound phases, which some relays need" : "";
  if (other !== undefined) {
    const third = "abc".replace(one as string, "").replace(other, "");
    const around = isSingle ? "" : ` around −½·V${third}`;
    return `loop ${one}–${other} ${place}, ${current} A out on ${one} and back on ${other}: V${one}${other} = 2·I·Z${around}${dead}`;
  }
  const k0 = earthFactorOf(setting);
  return `loop ${one} to earth ${place}, ${current} A on ${one}: V${one} = ${plain(per, 4)}·I·Z, k0 = ${plain(magnitude(k0), 4)}∠${plain(angleOf(k0), 4)}°${dead}`;
}
