import { above, atLeast, fail, finite, nameIn, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { ChannelState, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { type ContactEvent, totalTime, type Walk, type WalkOptions, walk } from "../timeline/index.js";
import { calledHere } from "./called-here.js";
import { lanesOf } from "./contact-changes.js";
import { contactPanel, type TimedOperation } from "./contact-lanes.js";
import { stacked } from "./look.js";
import { inWords } from "./profile-in-words.js";
import { extentOf, linearScale } from "./scale.js";
import type { StackedFigure } from "./specification.js";
import { type DrawnState, stateNames } from "./state-names.js";
import { type Course, coursePanel, type TimeBase, together, WIDTH } from "./time-axis.js";

/** What of a channel is drawn over time. */
export type ProfileQuantity = "rms" | "frequency" | "angle";

/** Which sequence, and what of it. */
export interface ProfileFigureOptions {
  readonly title: string;
  readonly timeline: Timeline;
  /** What the contacts did, in seconds since the start; they end states that wait for them, as `walk` says. */
  readonly events?: readonly ContactEvent[];
  /** Default: every channel that is on at some time. */
  readonly channels?: readonly string[];
  /** Default: rms and frequency. */
  readonly quantities?: readonly ProfileQuantity[];
  /** How contacts are read, and what counts as the operation: see `walk`. A ramp needs a threshold for its operate time. */
  readonly how?: WalkOptions;
  /** Seconds since the start. Default 0. */
  readonly from?: Seconds;
  /** Default: the end, or the last change of a contact where that is later. */
  readonly to?: Seconds;
}

/**
 * A test sequence over time: rms values, frequencies and angles of its channels, the states by name, and what the contacts
 * did with the operate time. Channels that do the same are drawn as one line with all their names.
 *
 * A channel that is off has rms 0, and neither frequency nor angle. Angles are as they were given, not turned into one
 * range. Where the names of states do not fit side by side they stand in two rows, or numbers stand for them and the
 * subtitle lists them; of more than 30 states those are named that have room. Changes of a contact within 10 ms of one another (or
 * within `how.debounce`, where that is longer), three or more of them, are bounce.
 *
 * @returns A Vega-Lite specification with panels above one another on one axis of time.
 * @throws A {@link InputError} as `walk` does, for channels that are not wired, and for a window outside the sequence.
 * Accuracy: values at the beginning of each state are those of the timeline, at its end start + slope · duration in doubles.
 * @source design of this library
 *
 * @example
 * import { profileFigure } from "tripwright/figure";
 * import { faultSequence } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } }, fault: { i: { rms: 12, frequency: 50 } }, settleFor: 2, giveUpAfter: 3,
 *   endsOn: { contact: "trip", to: "closed" }, wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const figure = profileFigure({ title: "51P at 3 ×", timeline, events: [{ contact: "trip", at: 3.36, to: "closed" }] });
 * figure.vconcat.length; // → 3
 * figure.description; // → "51P at 3 ×. pre-fault from 0 to 2 s; fault from 2 to 3.36 s. trip closed at 3.36 s. Operate time 1.36 s."
 */
export function profileFigure(given: ProfileFigureOptions): StackedFigure {
  const {
    title,
    timeline,
    events = [],
    quantities = ["rms", "frequency"],
    how = {},
  } = options(given, ["title", "timeline", "events", "channels", "quantities", "how", "from", "to"]);
  text(title, "title", "a title");
  within("timeline", () => totalTime(timeline));
  options(how, Object.keys(OF_HOW), "how");
  const walked = calledHere({ contactEvents: "events", ...OF_HOW }, () => walk(timeline, events, how));
  const timed = operateTimes(walked, timeline, how);
  const channels = channelsOf(timeline, given.channels);
  if (!Array.isArray(quantities) || quantities.length === 0)
    fail("wrong-type", "quantities", "a list of rms, frequency, angle", quantities);
  for (const [i, quantity] of quantities.entries()) nameIn(quantity, NAMES, `quantities[${i}]`);
  const last = extentOf([walked.endedAt, ...events.map(({ at }) => at)])[1];
  const window = windowOf(given, last);
  const lasted = walked.states
    .filter(({ startedAt, endedAt }) => endedAt > startedAt)
    .flatMap((state, i) => stretchOf(state, i, window));
  const lanes = lanesOf(events, how.debounce ?? 0);
  const scale = linearScale([window.from, window.to], { exact: true, count: 10 });
  const { names, list } = stateNames(lasted, scale, WIDTH);
  const base: TimeBase = {
    scale,
    states: lasted,
    names,
    instants: lanes
      .flatMap(({ changes }) => changes.map(({ at }) => at))
      .filter((at) => at > 0 && at >= window.from && at <= window.to)
      .sort((a, b) => a - b),
  };
  const panels = [...new Set(quantities)].flatMap((quantity) =>
    panelsOf(quantity, channels, { timeline, walked, lasted, threshold: how.threshold }),
  );
  if (panels.length === 0) fail("missing", "channels", "one channel or more that is on at some time", channels);
  const hasContacts = events.length > 0;
  const views = panels.map((panel, i) =>
    coursePanel(
      {
        ...panel,
        height: panel.courses.length > 3 ? 150 : 120,
        isFirst: i === 0,
        isLast: !hasContacts && i === panels.length - 1,
      },
      base,
    ),
  );
  const contacts = hasContacts ? [contactPanel(lanes, timed, base)] : [];
  const isShown = (at: Seconds) => at >= window.from && at <= window.to;
  const seen = lanes.map((lane) => ({ ...lane, changes: lane.changes.filter(({ at }) => isShown(at)) }));
  const seenTimes = timed.filter(({ elapsed }) => isShown(elapsed));
  const description = `${title}. ${inWords(lasted, seen, seenTimes)}`;
  return stacked({ title, subtitle: list, description }, [...views, ...contacts]);
}

const OF_HOW = { debounce: "how.debounce", threshold: "how.threshold", operation: "how.operation" } as const;
const NAMES: Readonly<Record<ProfileQuantity, string>> = {
  rms: "rms",
  frequency: "Frequency (Hz)",
  angle: "Angle (°)",
};

interface Window {
  readonly from: Seconds;
  readonly to: Seconds;
}

function windowOf({ from = 0, to }: ProfileFigureOptions, last: Seconds): Window {
  atLeast(from, 0, "from", "a time since the start", "s");
  if (to === undefined && !(from < last))
    fail("out-of-range", "from", `a time before ${last} s, where the figure ends`, from);
  const end = to ?? last;
  above(finite(end, "to", "a time since the start"), from, "to", "a time", "s");
  if (end > last) fail("out-of-range", "to", `a time up to ${last} s, where the figure ends`, end);
  return { from, to: end };
}

/** A state as far as a window shows it. */
interface Stretch extends DrawnState {
  /** Its place in what was run. */
  readonly index: number;
  /** Between its own start and the start of the stretch. */
  readonly since: Seconds;
  readonly isToItsEnd: boolean;
}

function stretchOf({ name, startedAt, endedAt }: DrawnState, index: number, { from, to }: Window): Stretch[] {
  const start = Math.max(startedAt, from);
  const end = Math.min(endedAt, to);
  return end > start
    ? [{ name, startedAt: start, endedAt: end, index, since: start - startedAt, isToItsEnd: end === endedAt }]
    : [];
}

/** The operate times, where something says from when they count. */
function operateTimes({ operations }: Walk, timeline: Timeline, how: WalkOptions): TimedOperation[] {
  const counts = how.threshold !== undefined || timeline.segments.some(({ clock }) => clock === "starts");
  return operations.flatMap(({ operateTime, elapsed }) =>
    operateTime === undefined || !counts ? [] : [{ operateTime, elapsed }],
  );
}

/** The channels asked for, or those that are on at some time. */
export function channelsOf({ wiring, segments }: Timeline, asked: readonly string[] | undefined): readonly string[] {
  if (asked === undefined)
    return Object.keys(wiring).filter((name) =>
      segments.some(({ channels }) => Object.hasOwn(channels, name) && isOn(channels[name] as ChannelState)),
    );
  if (!Array.isArray(asked) || asked.length === 0)
    fail("wrong-type", "channels", "a list of one channel or more", asked);
  return [...new Set(asked.map((name, i) => nameIn(name, wiring, `channels[${i}]`)))];
}

const isOn = ({ rms, slope, offset = 0, decay, harmonics = [] }: ChannelState): boolean =>
  rms > 0 || (slope?.rms ?? 0) > 0 || offset !== 0 || decay !== undefined || harmonics.length > 0;

interface Sequence {
  readonly timeline: Timeline;
  readonly walked: Walk;
  readonly lasted: readonly Stretch[];
  readonly threshold: WalkOptions["threshold"];
}

/** Currents and voltages have axes of their own; frequencies and angles of all channels share one. */
function panelsOf(quantity: ProfileQuantity, channels: readonly string[], sequence: Sequence) {
  const { wiring } = sequence.timeline;
  const { threshold } = sequence;
  const panel = (name: string, title: string, names: readonly string[]) => {
    const isCrossed = threshold !== undefined && threshold.quantity === quantity && names.includes(threshold.channel);
    const courses = together(
      names.map((name) => courseOf(name, quantity, sequence)).filter(({ points }) => points.length > 0),
    );
    const level = isCrossed ? { level: threshold.level + 0 } : {};
    return courses.length === 0 ? [] : [{ name, title, courses, isMagnitude: quantity === "rms", ...level }];
  };
  if (quantity !== "rms") return panel(quantity, NAMES[quantity], channels);
  return (["voltage", "current"] as const).flatMap((kind) =>
    panel(
      kind,
      kind === "voltage" ? "Voltage (V rms)" : "Current (A rms)",
      channels.filter((name) => wiring[name]?.quantity === kind),
    ),
  );
}

function courseOf(name: string, quantity: ProfileQuantity, { walked, lasted }: Sequence): Course {
  let run = 0;
  const points = lasted.flatMap(({ startedAt, endedAt, index, since, isToItsEnd }) => {
    const { channels, duration } = walked.ran.segments[index] as Timeline["segments"][number];
    const state = Object.hasOwn(channels, name) ? channels[name] : undefined;
    if (state === undefined && quantity !== "rms") {
      run++;
      return [];
    }
    // An angle of −0 would not survive JSON.
    const start = (state?.[quantity] ?? 0) + 0;
    const slope = state?.slope?.[quantity] ?? 0;
    // A ramp to 0 may end a rounding below it.
    const valueAfter = (time: Seconds) =>
      quantity === "angle" ? start + slope * time : Math.max(0, start + slope * time);
    return [
      { time: startedAt, value: valueAfter(since), run },
      { time: endedAt, value: valueAfter(isToItsEnd ? duration : since + (endedAt - startedAt)), run },
    ];
  });
  return { name, points };
}
