import { fail, object, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type { Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { ElementSetting } from "../element/index.js";
import { totalTime } from "../timeline/index.js";
import { checkOptions, type RehearsalOptions, rehearsed } from "./errors.js";
import type { Rehearsed } from "./relay-state.js";
import { type ElementEvent, type RehearsedEvent, relayAtRest, runState } from "./run.js";
import { normalNumbers } from "./scatter.js";
import { turnedAtStart } from "./source.js";

/** What relays with these settings would do. */
export interface Rehearsal {
  /** What their contacts would do, in order of time. */
  readonly events: readonly RehearsedEvent[];
  /** What each element would do, whatever its contacts show. */
  readonly log: readonly ElementEvent[];
  /** When each state would end: early, where the contact that ends it is among the events. */
  readonly stateEnds: readonly Seconds[];
}

/**
 * What relays with these settings would do under a sequence, event by event, from rest.
 *
 * A function starts where its quantity goes beyond its start, and lets go where it is back behind its dropout or is blocked;
 * thresholds crossed inside a ramp are solved. Both show after the measuring delay without a break; a pulse that is
 * shorter is not seen. The time law counts from the crossing: a definite time runs on to the dropout, an inverse one follows the
 * integral over its multiple and runs back as its reset says. The contact closes when the law is done, but never before
 * the start shows: the measuring delay runs beside the time law, not after it. A contact is closed while any element holds it.
 *
 * A contact that is early (an error below 0 s) closes before the law is done, as it would be if all stayed as it is then. A
 * thermal image follows the current at all times, and lets go where it has cooled to its release. What happens at the very
 * end of a state, or ends the next one as it begins, is taken as `walk` takes it.
 *
 * A state that stands still is looked at once, as each function watches it: a current function does not ask whether voltages
 * turn. One that moves evenly has nothing to miss; any other is looked at in 64 parts or more, between which no channel turns
 * further than 2° against another, and at the tops and bottoms near a threshold. What blocks or arms a function for less than
 * a part is not seen. A state of more turns can be given as several.
 *
 * A drawn curve says nothing outside its points. A function that has one does not operate before the first of them, though it
 * starts, and takes the time of the last beyond it.
 *
 * @param elements - Settings at the relay, any number; none needs to be on the same contact as another.
 * @param given - `errors` by element shift pickup, time and delay, and scatter pickup and delay, by the seed.
 * @throws A {@link InputError} for settings and sequences that are not good, two settings of one name, channels that turn
 * through more than 20,000° in one state, errors of elements that do not take part, scatter without a seed, and unknown
 * options.
 * Accuracy: crossings 1e-9 s; inverse times as `operateInstant` where the multiple moves evenly, 1e-6 where
 * it does not; a thermal image along ramps 1e-5 of the level at which it operates.
 * @source IEEE C37.112-2018 (integral), IEC 60255-151:2009; measuring delay and dropout: common practice
 *
 * @example
 * import { rehearse } from "tripwright/rehearsal";
 * import { faultSequence, walk } from "tripwright/timeline";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const relay = [{ id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy }] as const;
 * const timeline = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } },
 *   fault: { i: { rms: 12, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 3,
 *   endsOn: { contact: "trip", to: "closed" },
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const { events } = rehearse(relay, timeline);
 * walk(timeline, events).operateTime; // → 1.35
 * rehearse(relay, timeline, { errors: { "51P": { time: 1.1 } } }).events[0]?.at.toFixed(3); // → "3.485"
 */
export function rehearse(
  elements: readonly ElementSetting[],
  timeline: Timeline,
  given: RehearsalOptions = {},
): Rehearsal {
  const playing = playersOf(elements, given);
  within("timeline", () => totalTime(timeline));
  let relay = relayAtRest(playing, turnedAtStart(timeline.segments));
  const events: RehearsedEvent[] = [];
  const log: ElementEvent[] = [];
  const stateEnds: Seconds[] = [];
  for (const [i, segment] of timeline.segments.entries()) {
    const passed = within(`timeline.segments[${i}]`, () => runState(playing, relay, segment, timeline.wiring));
    relay = passed.relay;
    events.push(...passed.events);
    log.push(...passed.log);
    stateEnds.push(relay.now);
  }
  return { events, log, stateEnds };
}

function checkNames(element: ElementSetting, elements: readonly ElementSetting[], i: number): void {
  const { id, contact, startContact } = object(element, "", "the settings of a function");
  text(id, "id", "the name of a function");
  text(contact, "contact", "the name of a contact");
  if (startContact !== undefined) text(startContact, "startContact", "the name of a contact");
  if (elements.findIndex((other) => other?.id === id) < i) fail("duplicate", "id", "each name once", id);
}

/** The elements with the errors that they play; the scatter of one does not depend on which others take part. */
export function playersOf(elements: readonly ElementSetting[], given: RehearsalOptions): Rehearsed[] {
  readEach(elements, "elements", "a list of element settings", (element, i) => checkNames(element, elements, i));
  const { errors = {}, seed = 0 } = checkOptions(given, elements);
  return elements.map((element, i) =>
    within(`elements[${i}]`, () => rehearsed(element, errors[element.id], normalNumbers(seedOf(element.id, seed)))),
  );
}

/** A seed of its own for each name (a hash after Fowler, Noll and Vo). */
export function seedOf(name: string, seed: number): number {
  let hash = (seed ^ 0x811c9dc5) >>> 0;
  for (const character of name) hash = Math.imul(hash ^ (character.codePointAt(0) as number), 0x01000193) >>> 0;
  return hash;
}
