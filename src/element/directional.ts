import type { Answer } from "../base/answer.js";
import { fail } from "../base/check.js";
import type { ChannelStates } from "../base/sequence.js";
import type { Degrees, Volts } from "../base/units.js";
import {
  comparedOf,
  type DirectionalQuantities,
  directionalProduct,
  directionalSector,
  distanceTo,
} from "../characteristic/index.js";
import { angle, magnitude } from "../phasor/index.js";
import type { Definition, Edge, Observation, Pose, Still } from "./definition.js";
import { observe } from "./definition.js";
import { inputsOf, type RelayInputs } from "./inputs.js";
import { backwards } from "./poses.js";
import type { DirectionalSetting } from "./setting.js";
import { type Bench, balanced, currents, type Setup, single, voltagesToNeutral } from "./setup.js";
import { phasesSeen } from "./watched.js";

const SQRT3 = 1.7320508075688772;

/** Which polarising quantities go with what is watched. */
const POLARISED: Readonly<Record<DirectionalSetting["watches"], readonly DirectionalSetting["polarising"][]>> = {
  phase: ["self", "quadrature"],
  "negative-sequence": ["-V2"],
  residual: ["-3V0", "3V0"],
};

function checkPolarising({ watches, polarising }: DirectionalSetting): void {
  const known = POLARISED[watches];
  if (!known.includes(polarising)) fail("conflict", "polarising", `${known.join(" or ")} for ${watches}`, polarising);
}

/** The middle of the sector in which it operates; faults behind lie opposite. */
const middleOf = ({ operates, characteristicAngle }: DirectionalSetting): Degrees =>
  operates === "forward" ? characteristicAngle : characteristicAngle + 180;

/** What is compared: once for each phase, or once for the sequence. */
function comparedBy(inputs: RelayInputs, setting: DirectionalSetting): DirectionalQuantities[] {
  const { watches, polarising, rotation } = setting;
  const [v, i] = [phasesSeen(inputs, "v"), phasesSeen(inputs, "i")];
  if (watches !== "phase") return [comparedOf({ v, i, polarising, rotation })];
  return (["a", "b", "c"] as const).map((phase) => comparedOf({ v, i, polarising, phase, rotation }));
}

/** The largest current that comes from the side on which it operates; blocked while none does. */
function read(inputs: RelayInputs, setting: DirectionalSetting): Observation {
  const { measures = "current", minimumVoltage = 0, leading = 90, lagging = 90 } = setting;
  const middle = middleOf(setting);
  const sector = directionalSector({ characteristicAngle: middle, leading, lagging });
  const compared = comparedBy(inputs, setting);
  const right = compared.filter(({ polarising, operating }) => {
    const size = magnitude(polarising);
    if (size === 0 || size < minimumVoltage || magnitude(operating) === 0) return false;
    const { re, im } = directionalProduct({ operating, polarising }, 0);
    return distanceTo(sector, { x: re / size, y: im / size }) >= 0;
  });
  if (right.length === 0)
    return observe(Math.max(...compared.map(({ operating }) => magnitude(operating))), setting, "over", {
      blocked: true,
    });
  const sizes = right.map(({ operating, polarising }) =>
    measures === "current"
      ? magnitude(operating)
      : Math.max(0, directionalProduct({ operating, polarising }, middle).re / magnitude(polarising)),
  );
  return observe(Math.max(...sizes), setting, "over");
}

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
  const states = Object.fromEntries(
    Object.entries(i.states).map(([name, state]) => [
      name,
      { ...state, rms: state.rms / magnitude(operating), angle: (state.angle ?? 0) + wanted - off },
    ]),
  );
  return { states: { ...v.states, ...states }, wiring, current: { states, wiring: i.wiring }, note };
}

/** The size of the current is the level, at an angle. */
function bySize(setting: DirectionalSetting, setup: Setup, wanted: Degrees): Answer<Pose, string> {
  const directed = directedAt(setting, setup, wanted);
  if (typeof directed === "string") return { kind: "none", reason: directed };
  const { states, wiring, current, note } = directed;
  const off = Object.fromEntries(Object.entries(current.states).map(([name, state]) => [name, { ...state, rms: 0 }]));
  const lever = Object.fromEntries(Object.entries(current.states).map(([name, { rms }]) => [name, { rms }]));
  return { kind: "found", base: { ...states, ...off }, lever, wiring, note };
}

/** How far above the pickup an angle is swept, so that the size of the current does not matter. */
const ABOVE = 2;

/** The angle of the current to its polarising quantity is the level, at twice the pickup. */
function byAngle(setting: DirectionalSetting, setup: Setup): Answer<Pose, string> {
  const directed = directedAt(setting, setup, 0);
  if (typeof directed === "string") return { kind: "none", reason: directed };
  const { states, wiring, current, note } = directed;
  const rms = ABOVE * (setting.law.startRatio ?? 1) * setting.pickup;
  const larger = Object.fromEntries(
    Object.entries(current.states).map(([name, state]) => [name, { ...state, rms: state.rms * rms }]),
  );
  const lever = Object.fromEntries(Object.keys(current.states).map((name) => [name, { angle: 1 }]));
  return {
    kind: "found",
    base: { ...states, ...larger },
    lever,
    wiring,
    note: `${note}; the angle is that of the current to its polarising quantity`,
  };
}

/** Where twice the pickup along the characteristic angle falls to the pickup: cos⁻¹ ½. */
const COSINE_EDGE: Degrees = 60;

function edges(setting: DirectionalSetting, setup: Setup): Edge[] {
  const { measures = "current", leading = 90, lagging = 90 } = setting;
  const middle = middleOf(setting);
  const most = measures === "current" ? 180 : COSINE_EDGE;
  const common = { unit: "°", around: { difference: 10 }, heldTo: "angle", pose: byAngle(setting, setup) } as const;
  return [
    { ...common, name: "leading", side: "under", at: middle + Math.min(leading, most) },
    { ...common, name: "lagging", side: "over", at: middle - Math.min(lagging, most) },
  ];
}

function stills(setting: DirectionalSetting, setup: Setup): Still[] {
  const behind = setting.operates === "forward" ? "reverse" : "forward";
  const pose = bySize(setting, setup, middleOf(setting) + 180);
  return [
    {
      name: behind,
      level: ABOVE * (setting.law.startRatio ?? 1) * setting.pickup,
      why: `a ${behind} fault of ${ABOVE} × the setting`,
      pose,
    },
  ];
}

const common = {
  unit: "A",
  side: "over",
  fields: ["polarising", "characteristicAngle", "leading", "lagging", "operates", "measures", "minimumVoltage"],
  system: ["rotation"],
  laws: ["definite", "inverse", "table"],
  instantaneous: true,
  relates: true,
  check: checkPolarising,
  heldTo: () => ["angle"] as const,
  read,
  pose: (setting: DirectionalSetting, setup: Setup) => bySize(setting, setup, middleOf(setting)),
  edges,
  stills,
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [3, 7, 15],
    measuringCycles: 3,
    dropout: { ratio: 0.95 },
  },
} as const;

/** 67: directional overcurrent of the phases or of the negative sequence. */
export const directionalOvercurrent: Definition<DirectionalSetting> = {
  ...common,
  watches: ["phase", "negative-sequence"],
  function: "67",
  title: "directional overcurrent",
  source: "IEEE C37.2 device function 67; characteristic angle as common practice counts it",
};

/** 67N: directional overcurrent of the residual current. */
export const directionalEarthFault: Definition<DirectionalSetting> = {
  ...common,
  watches: ["residual"],
  function: "67N",
  title: "directional residual overcurrent",
  source: "IEEE C37.2 device function 67, suffix N; characteristic angle as common practice counts it",
};
