/** Several functions along the states of a sequence, with the contacts that they drive. */
import { decimal, toNumber } from "../base/exact.js";
import type { ContactChange, Segment, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { atRest, type Happening, hair, passed, type Rehearsed, type RelayState } from "./relay-state.js";
import { sourceOf, type Turned, turnedAfter } from "./source.js";
import { type Stretch, trackOf } from "./track.js";

/** A contact that changed, and the element that made it. */
export interface RehearsedEvent {
  /** Seconds since the start. */
  readonly at: Seconds;
  readonly contact: string;
  readonly to: "closed" | "open";
  readonly element: string;
}

/** Something that an element did, whatever its contacts show. */
export interface ElementEvent extends Happening {
  readonly element: string;
}

/** A relay between two states. */
export interface Relay {
  readonly now: Seconds;
  /** Changes of contacts at this very instant that have ended no state: one may end the next state as it begins. */
  readonly edges: readonly RehearsedEvent[];
  /** What the state before waited for until its time was over: at that very instant it still ends that one. */
  readonly awaited?: ContactChange;
  readonly turned: Turned;
  readonly states: readonly RelayState[];
}

/** A relay at rest. */
export const relayAtRest = (elements: readonly Rehearsed[], turned: Turned): Relay => ({
  now: 0,
  edges: [],
  turned,
  states: elements.map(atRest),
});

/** What came of one state. */
export interface Passed {
  readonly relay: Relay;
  readonly events: readonly RehearsedEvent[];
  readonly log: readonly ElementEvent[];
}

/** One state, until its time is over or the contact that ends it has done so. */
export function runState(elements: readonly Rehearsed[], relay: Relay, segment: Segment, wiring: Wiring): Passed {
  const { endsOn } = segment;
  const isOf = (event: RehearsedEvent, change: ContactChange | undefined) =>
    event.contact === change?.contact && event.to === change.to;
  const ends = (event: RehearsedEvent) =>
    isOf(event, endsOn) && !(event.at === relay.now && isOf(event, relay.awaited));
  const atOnce = relay.edges.find(ends);
  if (atOnce !== undefined)
    return { relay: { ...relay, edges: relay.edges.filter((edge) => edge !== atOnce) }, events: [], log: [] };
  const source = sourceOf(segment, wiring, relay.turned);
  const tracks = elements.map((element) => trackOf(element, source));
  const end = toNumber(decimal(relay.now, "").plus(decimal(segment.duration, "duration")), "duration");
  const whole = runTracks(elements, relay, tracks, end);
  const ending = whole.events.find(ends);
  if (ending === undefined) return arrived(whole, relay, segment, end);
  // A hair longer, so that the rounding of instants does not lose what ended the state.
  const until = ending.at + hair(ending.at);
  const cut = tracks.map((track) => upTo(track, until - relay.now));
  const ran = atOneInstant(runTracks(elements, relay, cut, until), ending.at);
  return arrived(ran, relay, segment, ending.at, ends);
}

/** A state that is cut short is computed anew, and its end may come out a rounding earlier or later: it is one instant. */
function atOneInstant({ states, events, log }: Ran, end: Seconds): Ran {
  const settled = <T extends { readonly at: Seconds }>(one: T): T =>
    Math.abs(one.at - end) <= hair(end) ? { ...one, at: end } : one;
  return { states, events: events.map(settled), log: log.map(settled) };
}

interface Ran {
  readonly states: readonly RelayState[];
  readonly events: readonly RehearsedEvent[];
  readonly log: readonly ElementEvent[];
}

function runTracks(
  elements: readonly Rehearsed[],
  relay: Relay,
  tracks: readonly (readonly Stretch[])[],
  until: Seconds,
): Ran {
  const ran = elements.map((element, i) =>
    passed(element, { state: relay.states[i] as RelayState, stretches: tracks[i] as Stretch[], now: relay.now, until }),
  );
  const log = ran
    .flatMap(({ happenings }, i) =>
      happenings.map((one) => ({ ...one, element: (elements[i] as Rehearsed).setting.id })),
    )
    // Of one instant, what closes a contact comes first: one element may take it over from another without a gap.
    .sort((a, b) => a.at - b.at || Number(a.step === "released") - Number(b.step === "released"));
  return { states: ran.map(({ state }) => state), events: contactsOf(log, elements, relay.states), log };
}

/** All of them stand at the same instant, whatever their arithmetic says. */
function arrived(
  { states, events, log }: Ran,
  relay: Relay,
  segment: Segment,
  now: Seconds,
  ends: (event: RehearsedEvent) => boolean = () => false,
): Passed {
  const used = events.find(ends);
  const edges = events.filter((event) => event !== used && event.at >= now);
  const turned = turnedAfter(now - relay.now, segment, relay.turned);
  const together = states.map((state) => ({ ...state, travel: { ...state.travel, elapsed: now } }));
  const awaited = used === undefined ? segment.endsOn : undefined;
  return { relay: { now, edges, turned, states: together, ...(awaited && { awaited }) }, events, log };
}

/** The stretches up to an instant. */
function upTo(track: readonly Stretch[], lasted: Seconds): Stretch[] {
  return track.flatMap((stretch) => {
    if (stretch.since >= lasted) return [];
    const duration = Math.min(stretch.duration, lasted - stretch.since);
    const share = stretch.duration === 0 ? 1 : duration / stretch.duration;
    return [{ ...stretch, duration, to: stretch.from + (stretch.to - stretch.from) * share }];
  });
}

type Holding = ReadonlyMap<string, readonly string[]>;

/** Which elements hold which contact closed. */
function heldBy(elements: readonly Rehearsed[], states: readonly RelayState[]): Holding {
  const holding = new Map<string, string[]>();
  const hold = (contact: string, id: string) => holding.set(contact, [...(holding.get(contact) ?? []), id]);
  elements.forEach(({ setting }, i) => {
    const { shows, operated } = states[i] as RelayState;
    if (shows && setting.startContact !== undefined) hold(setting.startContact, setting.id);
    if (operated) hold(setting.contact, setting.id);
  });
  return holding;
}

/** A contact is closed while any element holds it: it changes with the first that closes and the last that lets go. */
function contactsOf(
  log: readonly ElementEvent[],
  elements: readonly Rehearsed[],
  before: readonly RelayState[],
): RehearsedEvent[] {
  const holding = new Map(heldBy(elements, before));
  return log.flatMap((event) => {
    const { setting } = elements.find((one) => one.setting.id === event.element) as Rehearsed;
    return movedBy(event, setting).flatMap(([contact, to]): RehearsedEvent[] => {
      const held = holding.get(contact) ?? [];
      const others = held.filter((id) => id !== event.element);
      holding.set(contact, to === "closed" ? [...others, event.element] : others);
      const isChange = to === "closed" ? held.length === 0 : held.length > 0 && others.length === 0;
      return isChange ? [{ at: event.at, contact, to, element: event.element }] : [];
    });
  });
}

/** Which contacts a step moves, and how. */
function movedBy(
  { step }: ElementEvent,
  { contact, startContact }: Rehearsed["setting"],
): [contact: string, to: "closed" | "open"][] {
  const start = startContact === undefined ? [] : [startContact];
  if (step === "started") return start.map((name) => [name, "closed"]);
  if (step === "operated") return [[contact, "closed"]];
  return [...start, contact].map((name) => [name, "open"]);
}
