/** The two sides of an open breaker on the channels of a source. */
import type { Answer } from "../base/answer.js";
import { type ChannelState, type ChannelStates, eachChannel, type Lever, type Wiring } from "../base/sequence.js";
import type { Degrees, Volts } from "../base/units.js";
import type { Pose } from "./definition.js";
import type { SynchronismSetting } from "./setting.js";
import type { Setup } from "./setup.js";
import { SQRT3 } from "./three-phases.js";

/** In opposition, as far from permitting as can be: how the two sides stand before a check. */
export const OPPOSITE: Degrees = 180;

/** How each side moves with the level. */
interface Moves {
  readonly running?: Lever[string];
  readonly incoming?: Lever[string];
}

/** The two sides in step at rated voltage, on two channels; what is given of a side replaces that. */
export function inStep(
  { watches }: SynchronismSetting,
  setup: Setup,
  { moves, note, ...sides }: { moves: Moves; note: string; running?: object; incoming?: object },
): Answer<Pose, string> {
  const rated = ratedOf(watches, setup);
  if (typeof rated === "string") return { kind: "none", reason: rated };
  if (setup.voltageChannels === 1)
    return {
      kind: "none",
      reason:
        "one voltage channel feeds both sides alike: equal voltages in parallel show only that it permits; angle, difference and slip take a source of three",
    };
  const [running, incoming] = channelsFor(watches);
  const state: ChannelState = { rms: rated, frequency: setup.frequency, angle: 0 };
  return {
    kind: "found",
    base: { [running]: { ...state, ...sides.running }, [incoming]: { ...state, ...sides.incoming } },
    lever: {
      ...(moves.running && { [running]: moves.running }),
      ...(moves.incoming && { [incoming]: moves.incoming }),
    },
    wiring: {
      [running]: { quantity: "voltage", feeds: feedsOf(watches) },
      [incoming]: { quantity: "voltage", feeds: { vs: 1 } },
    },
    note,
  };
}

/** Rated voltage of what is compared, or why there is none. */
function ratedOf(watches: string, { ratedVoltage }: Setup): Volts | string {
  if (ratedVoltage === undefined) return "no rated voltage is given to compare";
  return watches.length === 1 ? ratedVoltage / SQRT3 : ratedVoltage;
}

/** The channel of the phase (the first of a pair) for the running side, the next one for the incoming. */
function channelsFor(watches: string): [running: string, incoming: string] {
  const phase = watches.charAt(0);
  return [`v${phase}`, `v${{ a: "b", b: "c", c: "a" }[phase]}`];
}

/** A phase alone, or one channel from line to line. */
const feedsOf = ([first, second]: string): Wiring[string]["feeds"] =>
  second === undefined ? { [`v${first}`]: 1 } : { [`v${first}`]: 0.5, [`v${second}`]: -0.5 };

/** One voltage on both sides: what a single channel can make, too. */
export function sameOnBoth(watches: SynchronismSetting["watches"], setup: Setup): Answer<Pose, string> {
  const rated = ratedOf(watches, setup);
  if (typeof rated === "string") return { kind: "none", reason: rated };
  const [running, incoming] = channelsFor(watches);
  const single = setup.voltageChannels === 1;
  const feeds = feedsOf(watches);
  const state = { rms: 0, frequency: setup.frequency, angle: 0 };
  const states: ChannelStates = single ? { v: state } : { [running]: state, [incoming]: state };
  return {
    kind: "found",
    base: states,
    lever: eachChannel(states, () => ({ rms: 1 })),
    wiring: single
      ? { v: { quantity: "voltage", feeds: { ...feeds, vs: 1 } } }
      : {
          [running]: { quantity: "voltage", feeds },
          [incoming]: { quantity: "voltage", feeds: { vs: 1 } },
        },
    note: "the same voltage on both sides, in step",
  };
}

/** One side at rated voltage, the other one dead. */
export function oneSide(dead: "running" | "incoming", setting: SynchronismSetting, setup: Setup): Answer<Pose, string> {
  const note = `no ${dead} voltage`;
  if (setup.voltageChannels === 3)
    return inStep(setting, setup, { moves: { incoming: { angle: 1 } }, note, [dead]: { rms: 0 } });
  const rated = ratedOf(setting.watches, setup);
  if (typeof rated === "string") return { kind: "none", reason: rated };
  const feeds = dead === "running" ? { vs: 1 } : feedsOf(setting.watches);
  return {
    kind: "found",
    base: { v: { rms: rated, frequency: setup.frequency, angle: 0 } },
    lever: {},
    wiring: { v: { quantity: "voltage", feeds } },
    note,
  };
}
