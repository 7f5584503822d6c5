/** A sequence as it came to pass: which state lasted how long, and what ended it. */
import { type Decimal, decimal, isBelow, toNumber } from "../base/exact.js";
import type { ContactChange, Segment, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { Edge } from "./contacts.js";

/** A state from its beginning to its end, exactly; without an edge that ended it, its time was over. */
export interface Run {
  readonly segment: Segment;
  readonly start: Decimal;
  readonly end: Decimal;
  readonly endedBy?: Edge;
}

/**
 * Whether an instant comes before another. Contacts are told as doubles, ends of states are sums of decimals: what rounds
 * to one double is one instant.
 */
export const isBefore = (a: Decimal, b: Decimal): boolean => isBelow(a, b) && toNumber(a, "at") !== toNumber(b, "at");

/**
 * Lets every state last until the contact that it waits for, or until its time is over. An edge at the very end of a
 * state ends it by contact. One edge ends one state: what follows waits for the next.
 */
export function runThrough(segments: readonly Segment[], edges: readonly Edge[]): readonly Run[] {
  const used = new Set<Edge>();
  const runs: Run[] = [];
  let [start, next] = [decimal(0, ""), 0];
  for (const segment of segments) {
    while (next < edges.length && isBefore((edges[next] as Edge).at, start)) next++;
    const latest = start.plus(decimal(segment.duration, "duration"));
    const endedBy = segment.endsOn && firstOf(edges, { change: segment.endsOn, next, latest, used });
    const end = endedBy?.at ?? latest;
    runs.push({ segment, start, end, ...(endedBy && { endedBy }) });
    if (endedBy) used.add(endedBy);
    start = end;
  }
  return runs;
}

interface Awaited {
  readonly change: ContactChange;
  /** The first edge that is not before the state. */
  readonly next: number;
  readonly latest: Decimal;
  readonly used: ReadonlySet<Edge>;
}

function firstOf(edges: readonly Edge[], { change, next, latest, used }: Awaited): Edge | undefined {
  for (let i = next; i < edges.length; i++) {
    const edge = edges[i] as Edge;
    if (isBefore(latest, edge.at)) return undefined;
    if (matches(edge, change) && !used.has(edge)) return edge;
  }
  return undefined;
}

/** Whether an edge is the change that is meant; what is not named may be any. */
export const matches = ({ event }: Edge, { contact = event.contact, to = event.to }: Partial<ContactChange>): boolean =>
  event.contact === contact && event.to === to;

/** The sequence that was really put out; a state that was ended as it began is not in it. */
export function putOut({ wiring }: Timeline, runs: readonly Run[]): Timeline {
  let at = decimal(0, "");
  const segments: Segment[] = [];
  for (const { segment, start, end, endedBy } of runs) {
    if (!isBelow(start, end)) continue;
    const duration = endedBy === undefined ? segment.duration : lasting(end, at);
    at = at.plus(decimal(duration, "duration"));
    segments.push({ ...segment, duration });
  }
  return { wiring, segments };
}

/**
 * The duration that leads from one instant to another. Where no double does exactly, it is a hair too short, so that at
 * the instant of a contact the next state has begun; the next duration makes up for it.
 */
function lasting(end: Decimal, start: Decimal): Seconds {
  const nearest = toNumber(end.minus(start), "duration");
  return isBelow(end, start.plus(decimal(nearest, "duration"))) ? nearest * (1 - Number.EPSILON / 2) : nearest;
}
