/** What each contact did, with the bounce of a change told apart from changes of its own. */
import type { Seconds } from "../base/units.js";
import type { ContactEvent } from "../timeline/index.js";

/** A change of a contact, and how it settled after bouncing. */
export interface Change {
  readonly at: Seconds;
  readonly to: ContactEvent["to"];
  /** Where it bounced: when the bouncing ended, and how it stood from then on. Else the change itself. */
  readonly settledAt: Seconds;
  readonly settles: ContactEvent["to"];
}

/** One contact. */
export interface Lane {
  readonly contact: string;
  /** In order of time, without those that change nothing. */
  readonly events: readonly ContactEvent[];
  readonly changes: readonly Change[];
}

/** Changes of one contact that follow one another within this time are bounce, where there are three or more. */
const BOUNCE: Seconds = 0.01;

/** The contacts in the order of their first changes. */
export function lanesOf(given: readonly ContactEvent[], debounce: Seconds = 0): Lane[] {
  const sorted = [...given].sort((a, b) => a.at - b.at);
  return [...new Set(sorted.map(({ contact }) => contact))].map((contact) => {
    const events = sorted
      .filter((event) => event.contact === contact)
      .filter((event, i, own) => event.to !== own[i - 1]?.to);
    return { contact, events, changes: burstsOf(events, Math.max(debounce, BOUNCE)).flatMap(changesOf) };
  });
}

function burstsOf(events: readonly ContactEvent[], longest: Seconds): ContactEvent[][] {
  const bursts: ContactEvent[][] = [];
  for (const event of events) {
    const burst = bursts.at(-1);
    const before = burst?.at(-1);
    if (burst !== undefined && before !== undefined && before.at > 0 && event.at - before.at <= longest)
      burst.push(event);
    else bursts.push([event]);
  }
  return bursts;
}

/** Two changes alone are a short pulse, and no bounce. */
function changesOf(burst: readonly ContactEvent[]): Change[] {
  const [first, last] = [burst[0], burst.at(-1)] as [ContactEvent, ContactEvent];
  if (burst.length > 2) return [{ at: first.at, to: first.to, settledAt: last.at, settles: last.to }];
  return burst.map(({ at, to }) => ({ at, to, settledAt: at, settles: to }));
}

/** How a contact stands at an instant; before its first change it stood the other way. */
export function standingAt({ events }: Lane, instant: Seconds): ContactEvent["to"] {
  const last = events.findLast(({ at }) => at <= instant);
  if (last !== undefined) return last.to;
  return events[0]?.to === "closed" ? "open" : "closed";
}
