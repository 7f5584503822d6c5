/** Validation of test sequences, with paths. */
import { above, fail, finite, nameIn, object, text } from "../base/check.js";
import { checkChannelState } from "../base/check-channel.js";
import { within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type { ChannelState, ChannelStates, ContactChange, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";

/** Checks wiring, states and durations, and that every state drives only wired channels. */
export function checkTimeline(timeline: Timeline, path = ""): Timeline {
  return within(path, () => {
    object(timeline, "", "a timeline { wiring, segments }");
    checkWiring(timeline.wiring, "wiring");
    const check = (segment: Segment) => checkSegment(segment, timeline.wiring);
    readEach(timeline.segments, "segments", "a list of one state or more", check, 1);
    return timeline;
  });
}

/** Checks one state. */
export function checkSegment(segment: Segment, wiring: Wiring): void {
  object(segment, "", "a state { name, duration, channels }");
  text(segment.name, "name", "the name of a state");
  above(segment.duration, 0, "duration", "a time", "s");
  checkDriven(segment.channels, { wiring, lasts: segment.duration }, "channels");
  if (segment.clock !== undefined) nameIn(segment.clock, { starts: true }, "clock");
  if (segment.endsOn !== undefined) within("endsOn", () => checkChange(segment.endsOn as ContactChange));
}

/** Checks what a contact does. */
export function checkChange(change: ContactChange): void {
  const { contact, to } = object(change, "", "what a contact does { contact, to }");
  text(contact, "contact", "the name of a contact");
  nameIn(to, { closed: true, open: true }, "to");
}

/** A ramp may end on 0, give or take the rounding of rate · duration, but never beyond. */
function checkEnd({ rms, frequency, slope = {} }: ChannelState, duration: number): void {
  for (const [name, start] of [
    ["rms", rms],
    ["frequency", frequency],
  ] as const) {
    const end = start + (slope[name] ?? 0) * duration;
    if (end < -1e-12 * start)
      fail("out-of-range", name, `a change that keeps ${name} at 0 or more to the end of the state`, slope[name]);
  }
}

/** Checks the wiring of the source's channels to the relay's inputs. */
export function checkWiring(wiring: Wiring, path: string): void {
  object(wiring, path, "channels by name, each { quantity, feeds }");
  for (const [name, channel] of Object.entries(wiring)) {
    within(`${path}.${name}`, () => {
      object(channel, "", "a channel { quantity, feeds }");
      if (channel.quantity !== "voltage" && channel.quantity !== "current") {
        fail("unknown-name", "quantity", "voltage or current", channel.quantity);
      }
      object(channel.feeds, "feeds", "relay inputs with their factors, such as { ia: 1 }");
      for (const [input, factor] of Object.entries(channel.feeds)) finite(factor, `feeds.${input}`, "a factor");
    });
  }
}

/** Where a state stands: on these channels, and for as long at the most. */
interface Standing {
  readonly wiring: Wiring;
  readonly lasts: Seconds;
}

/** Checks what a state drives: channels that are wired, none of which moves below 0. */
export function checkDriven(channels: ChannelStates, { wiring, lasts }: Standing, path: string): void {
  checkChannels(channels, path);
  for (const [name, state] of Object.entries(channels)) within(`${path}.${name}.slope`, () => checkEnd(state, lasts));
  const wired = Object.keys(wiring);
  for (const channel of Object.keys(channels)) {
    if (!wired.includes(channel))
      fail("unknown-name", `${path}.${channel}`, `one of the wired channels ${wired.join(", ")}`, channel);
  }
}

/** Checks the states of channels. */
export function checkChannels(channels: ChannelStates, path: string): void {
  object(channels, path, "channel states by name, such as { i: { rms: 4, frequency: 50 } }");
  for (const [name, state] of Object.entries(channels)) within(`${path}.${name}`, () => checkChannelState(state));
}
